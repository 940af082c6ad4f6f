package hosted

import (
	"context"
	"errors"
	"regexp"
	"strings"
	"unicode/utf8"

	"benchmeet/api/auth"
	"benchmeet/api/store"
	"benchmeet/domain/refusal"
)

// Invitation is a club that is to share a server.
type Invitation struct {
	Short string // its id, which stands in its addresses
	Name  string
	Host  string // its own host name; empty for none, or for the one that it has
	// Order is the client's id of the order; see auth.Wish.
	Order string
	// Again makes another link for a club that was invited before: for whoever runs the
	// server's machine, and for nobody who only holds a key.
	Again bool
}

// SignInLabel is what the key is called that comes with an invitation.
const SignInLabel = "organiser's sign-in"

var (
	shortName = regexp.MustCompile(`^[a-z]([a-z0-9-]{0,38}[a-z0-9])?$`)
	hostName  = regexp.MustCompile(`^([a-z0-9]([a-z0-9-]{0,61}[a-z0-9])?\.)*[a-z0-9]([a-z0-9-]{0,61}[a-z0-9])?$`)
)

// longestName and longestHost are in characters; a host name has no more by RFC 1035,
// section 2.3.4.
const (
	longestName = 200
	longestHost = 253
)

// Check refuses an invitation that is never possible, and gives it in the form in which
// it is kept.
func (i Invitation) Check() (Invitation, error) {
	i.Name, i.Host = strings.TrimSpace(i.Name), strings.ToLower(strings.TrimSpace(i.Host))
	switch {
	case !shortName.MatchString(i.Short):
		return i, refusal.New("club-short", "short", i.Short)
	case i.Name == "" || utf8.RuneCountInString(i.Name) > longestName:
		return i, refusal.New("club-name")
	case i.Host != "" && (len(i.Host) > longestHost || !hostName.MatchString(i.Host)):
		return i, refusal.New("club-host", "host", i.Host)
	}
	return i, nil
}

// Invite gives a club an address on the server, and makes the sign-in of its organiser.
// A club that is kept here and was never invited, such as one that was imported, is
// opened. A retry under the same order id gives the same sign-in.
func Invite(ctx context.Context, s store.Store, tokens auth.Tokens, i Invitation) (c store.Club, secret string, err error) {
	if i, err = i.Check(); err != nil {
		return c, "", err
	}
	clubs, err := s.Clubs(ctx)
	if err != nil {
		return c, "", err
	}
	c = store.Club{ID: i.Short, Name: i.Name}
	for _, one := range clubs {
		if one.ID == i.Short {
			c = one
		} else if i.Host != "" && one.Host == i.Host {
			return c, "", refusal.New("club-host-taken", "host", i.Host)
		}
	}
	wish := auth.Wish{Club: c.ID, Role: auth.Organiser, Label: SignInLabel, Order: i.Order}
	if c.InvitedUS != 0 && !i.Again {
		retried, err := tokens.Made(ctx, wish)
		if err != nil {
			return c, "", err
		}
		if !retried {
			return c, "", refusal.New("club-other", "short", i.Short)
		}
	}
	if c.InvitedUS != 0 && c.Name != i.Name {
		return c, "", refusal.New("club-other", "short", i.Short)
	}
	if err := s.EnsureClub(ctx, c); err != nil {
		return c, "", err
	}
	// The link first: a club with an address and without one could not be invited again.
	if secret, _, err = tokens.Make(ctx, wish); err != nil {
		return c, "", err
	}
	c.Name = i.Name
	if c.InvitedUS == 0 {
		c.InvitedUS = tokens.Now().UnixMicro()
	}
	if i.Host != "" {
		c.Host = i.Host
	}
	err = s.PutClub(ctx, c)
	if errors.Is(err, store.ErrConflict) {
		err = refusal.New("club-host-taken", "host", i.Host)
	}
	return c, secret, err
}

// Links are the addresses at which a sign-in opens the desk of a club, the best first;
// servers are those of the server. A host name of a club's own is one of https: whoever
// gives names out has certificates for them.
func Links(c store.Club, servers []string, secret string) []string {
	const page = "/desk#token="
	var out []string
	if c.Host != "" {
		out = append(out, "https://"+c.Host+page+secret)
	}
	for _, one := range servers {
		out = append(out, strings.TrimSuffix(one, "/")+"/c/"+c.ID+page+secret)
	}
	return out
}
