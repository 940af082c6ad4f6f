package main

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"net/http"
	"os"
	"strings"
	"time"

	"github.com/google/uuid"
	"github.com/spf13/cobra"

	"benchmeet/api/auth"
	"benchmeet/api/gen"
	"benchmeet/api/hosted"
	"benchmeet/api/wire"
	"benchmeet/domain/refusal"
)

const inviteHelp = `
Invites a club to share this server: it gets pages of its own under /c/ and its
short name, and people, keys, benches and meets that no other club sees. The link
that is printed signs its organiser in, in one browser, and is shown only now; sent
to anybody else it gives the club away.

--host gives the club a host name of its own, which has to lead to this server; its
pages then stand there too, at the root. Best give every club one: browsers keep what
they store for each host apart.

With --database it works beside the servers. While a server has the SQLite file open,
name that server with --server, and put an organiser's key of the server's own club
into the environment as BENCHMEET_TOKEN: an organiser makes one at the desk.

Invited again under its short name and name, a club's organiser gets another link,
where the first was lost; that needs the database. A club that was imported is
opened by inviting it under its id.

Examples:
  benchmeet club invite "Harbour Hall" --short harbour --host harbour.example
  benchmeet club invite "Harbour Hall" --short harbour --server http://127.0.0.1:8080
prints
  {"club": {"short": "harbour", "name": "Harbour Hall", "host": "harbour.example",
            "invited": "2027-04-05T18:00:00Z"},
   "links": ["https://harbour.example/desk#token=..."]}`

func newClubCommand() *cobra.Command {
	cmd := &cobra.Command{
		Use:   "club",
		Short: "Invite clubs to share a server, and list them",
		Args:  cobra.NoArgs,
		RunE:  func(cmd *cobra.Command, _ []string) error { return cmd.Help() },
	}
	cmd.AddCommand(newInviteCommand(), newClubsCommand())
	return cmd
}

func newInviteCommand() *cobra.Command {
	var o place
	var i hosted.Invitation
	var server, at string
	cmd := &cobra.Command{
		Use:   "invite NAME",
		Short: "Invite a club to share this server",
		Long:  strings.TrimSpace(inviteHelp),
		Args: func(_ *cobra.Command, args []string) error {
			if len(args) != 1 {
				return errors.New("invite needs the name of one club; see: benchmeet help club invite")
			}
			return nil
		},
		RunE: func(cmd *cobra.Command, args []string) error {
			i.Name = args[0]
			if i.Short == "" {
				return errors.New("invite needs --short, which stands in the club's addresses; see: benchmeet help club invite")
			}
			invite := func() (gen.InvitedClub, error) { return inviteIn(cmd.Context(), o, i, at) }
			if server != "" {
				invite = func() (gen.InvitedClub, error) { return inviteAt(cmd.Context(), server, i) }
			}
			out, err := invite()
			if err != nil {
				return err
			}
			return writeJSON(cmd, out)
		},
	}
	o.addTo(cmd)
	f := cmd.Flags()
	f.StringVar(&i.Short, "short", "", "short name, for its addresses: lower-case letters, digits and hyphens")
	f.StringVar(&i.Host, "host", "", "host name of its own that leads to this server")
	f.StringVar(&server, "server", "", "address of a running server to ask, instead of opening its database")
	f.StringVar(&at, "address", "", "where browsers open the server, for the link; such as https://hall.example")
	cmd.MarkFlagsMutuallyExclusive("server", "database")
	cmd.MarkFlagsMutuallyExclusive("server", "data")
	return cmd
}

// inviteIn invites a club in the database.
func inviteIn(ctx context.Context, o place, i hosted.Invitation, at string) (out gen.InvitedClub, err error) {
	if i, err = i.Check(); err != nil {
		return out, inviteSays(err)
	}
	if i.Short == homeClub {
		return out, inviteSays(refusal.New("club-other", "short", i.Short))
	}
	i.Again = true
	s, err := o.openToWrite(ctx, "Name that server with --server, or stop it first")
	if err != nil {
		return out, err
	}
	defer func() { err = errors.Join(err, s.Close()) }()
	key, err := s.Secret(ctx, "token-secret")
	if err != nil {
		return out, err
	}
	c, secret, err := hosted.Invite(ctx, s, auth.Tokens{Store: s, Now: time.Now, Key: key}, i)
	if err != nil {
		return out, inviteSays(err)
	}
	servers := []string{at}
	if at == "" && c.Host != "" {
		servers = nil
	}
	return gen.InvitedClub{Club: wire.ShowClub(c), Links: hosted.Links(c, servers, secret)}, nil
}

// inviteSays gives a refusal of an invitation the exit code of one.
func inviteSays(err error) error {
	if no, is := refusal.As(err); is {
		return refuse("%s", no.Error())
	}
	return err
}

// Bounds of asking a server.
const (
	askWithin  = 15 * time.Second
	mostAnswer = 1 << 20
)

// inviteAt asks a running server to invite a club.
func inviteAt(ctx context.Context, server string, i hosted.Invitation) (out gen.InvitedClub, err error) {
	key := os.Getenv("BENCHMEET_TOKEN")
	if key == "" {
		return out, errors.New("put an organiser's key of the server's own club into the environment as BENCHMEET_TOKEN")
	}
	body, err := json.Marshal(gen.InviteClub{Short: i.Short, Name: i.Name, Host: wire.Opt(i.Host)})
	if err != nil {
		return out, err
	}
	order, err := uuid.NewV7()
	if err != nil {
		return out, err
	}
	ctx, stop := context.WithTimeout(ctx, askWithin)
	defer stop()
	r, err := http.NewRequestWithContext(ctx, http.MethodPost, strings.TrimSuffix(server, "/")+"/api/v1/clubs", bytes.NewReader(body))
	if err != nil {
		return out, fmt.Errorf("--server %s: %w", server, err)
	}
	r.Header.Set("Authorization", "Bearer "+key)
	r.Header.Set("Content-Type", "application/json")
	r.Header.Set("Idempotency-Key", order.String())
	res, err := http.DefaultClient.Do(r)
	if err != nil {
		return out, fmt.Errorf("the server does not answer: %w", err)
	}
	defer res.Body.Close()
	text, err := io.ReadAll(io.LimitReader(res.Body, mostAnswer))
	if err != nil {
		return out, fmt.Errorf("the server's answer broke off; invite again: %w", err)
	}
	var no gen.Problem
	switch {
	case res.StatusCode == http.StatusCreated && json.Unmarshal(text, &out) == nil:
		return out, nil
	case json.Unmarshal(text, &no) == nil && no.Detail != "":
		return out, refuse("%s", no.Detail)
	}
	return out, fmt.Errorf("somebody else answers at %s: status %d", server, res.StatusCode)
}

func newClubsCommand() *cobra.Command {
	var o place
	var ids bool
	cmd := &cobra.Command{
		Use:   "list",
		Short: "List the clubs that a database keeps",
		Args:  cobra.NoArgs,
		RunE: func(cmd *cobra.Command, _ []string) (err error) {
			from, err := o.openToRead(cmd.Context())
			if err != nil {
				return err
			}
			defer func() { err = errors.Join(err, from.Close()) }()
			return listClubs(cmd, from, ids)
		},
	}
	o.addTo(cmd)
	cmd.Flags().BoolVar(&ids, "ids", false, "print the short names alone of those that have begun, one a line")
	return cmd
}

func listClubs(cmd *cobra.Command, from source, ids bool) error {
	all, err := from.Clubs(cmd.Context())
	if err != nil {
		return err
	}
	out := gen.ClubList{Clubs: []gen.Club{}}
	for _, c := range all {
		if ids {
			streams, err := from.Streams(cmd.Context(), c.ID)
			if err != nil {
				return err
			}
			if len(streams) > 0 {
				fmt.Fprintln(cmd.OutOrStdout(), c.ID)
			}
		}
		out.Clubs = append(out.Clubs, wire.ShowClub(c))
	}
	if ids {
		return nil
	}
	return writeJSON(cmd, out)
}
