package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"net/http"
	"text/tabwriter"
	"time"

	"github.com/spf13/cobra"
	"golang.org/x/sync/errgroup"

	"benchmeet/api/auth"
	"benchmeet/api/rehearsal"
	"benchmeet/api/store"
)

// mostClubs bounds --clubs: what is played beside each other shares one machine with its
// server.
const mostClubs = 1000

// clubsReport is what came of days that several clubs played at once on one server.
type clubsReport struct {
	Seed       uint64                                `json:"seed"`
	Clubs      int                                   `json:"clubs"`
	Entries    int                                   `json:"entries"` // of each club
	Benches    int                                   `json:"benches"`
	Store      string                                `json:"store"`
	Events     int64                                 `json:"events"` // of all meets
	Answers    map[rehearsal.Kind]rehearsal.Answered `json:"answers"`
	Seconds    float64                               `json:"seconds"`
	Invariants []rehearsal.Finding                   `json:"invariants"` // those that do not hold; none is as it must be
	AllHolds   bool                                  `json:"all_hold"`
}

// rehearseClubs plays a day of each of several clubs on one server, all at once.
func rehearseClubs(cmd *cobra.Command, o rehearseSettings, so serverOptions) error {
	ctx, cancel := context.WithTimeout(cmd.Context(), rehearseWithin)
	defer cancel()
	s, err := startServer(ctx, so)
	if err != nil {
		return err
	}
	defer func() { _ = s.Close() }() // what it tells of has been checked
	days, traffic, err := o.clubs(ctx, s)
	if err != nil {
		return err
	}
	began := time.Now()
	group, playing := errgroup.WithContext(ctx)
	for _, day := range days {
		group.Go(func() error { return day.Play(playing) })
	}
	if err := group.Wait(); err != nil {
		return err
	}
	took := time.Since(began)
	r := clubsReport{
		Seed: o.seed, Clubs: o.clubCount, Entries: o.entries, Benches: o.benches, Store: storeKind(so.Database),
		Answers: traffic.Answered(took), Seconds: took.Seconds(), Invariants: []rehearsal.Finding{}, AllHolds: true,
	}
	for _, day := range days {
		evidence, err := day.Gather(ctx)
		if err != nil {
			return err
		}
		r.Events += evidence.Head.Seq
		for _, f := range append(day.Check(evidence), day.ScreensAgree(ctx, evidence)) {
			if !f.Holds {
				r.Invariants, r.AllHolds = append(r.Invariants, f), false
			}
		}
	}
	if o.json {
		err = writeJSON(cmd, r)
	} else {
		err = r.print(cmd.OutOrStdout())
	}
	if err == nil && !r.AllHolds {
		err = refuse("%s does not hold: %s", r.Invariants[0].Name, r.Invariants[0].Says)
	}
	return err
}

// clubs invites the clubs and makes the day of each, whose requests are counted together.
func (o rehearseSettings) clubs(ctx context.Context, s *server) ([]*rehearsal.Day, *rehearsal.Traffic, error) {
	traffic := &rehearsal.Traffic{By: &http.Transport{MaxIdleConnsPerHost: 4 * o.clubCount}}
	var days []*rehearsal.Day
	for n := 1; n <= o.clubCount; n++ {
		// The short name is another one each time, as the club of one rehearsal's is.
		c := store.Club{
			ID: fmt.Sprintf("r%d-%d", time.Now().UnixNano(), n), Name: fmt.Sprint("Rehearsal club ", n), InvitedUS: s.clock.now().UnixMicro(),
		}
		if err := s.store.PutClub(ctx, c); err != nil {
			return nil, nil, err
		}
		secret, _, err := s.tokens.Make(ctx, auth.Wish{Club: c.ID, Role: auth.Organiser, Label: "rehearsal"})
		if err != nil {
			return nil, nil, err
		}
		day := rehearsal.New(rehearsal.Options{
			Base: s.url() + clubPath + c.ID, Token: secret, Plan: rehearsal.MakePlan(o.seed+uint64(n), o.entries, o.benches),
			HTTP: &http.Client{Timeout: 30 * time.Second, Transport: traffic},
		})
		day.Listen(ctx, o.screens)
		days = append(days, day)
	}
	return days, traffic, s.hosted.Look(ctx)
}

// checkClubs refuses what cannot be played by several clubs.
func (o rehearseSettings) checkClubs() error {
	switch {
	case o.clubCount < 1 || o.clubCount > mostClubs:
		return fmt.Errorf("--clubs is 1 to %d", mostClubs)
	case o.clubCount > 1 && (o.plan != "" || o.show || o.keep):
		return errors.New("--clubs plays made-up meets and ends: leave out --plan, --print-plan and --keep")
	}
	return nil
}

func (r clubsReport) print(out io.Writer) error {
	w := tabwriter.NewWriter(out, 0, 4, 2, ' ', 0)
	fmt.Fprintf(w, "%d clubs with %d entries on %d benches each: %d events in %.1f s on %s.\n\n",
		r.Clubs, r.Entries, r.Benches, r.Events, r.Seconds, r.Store)
	fmt.Fprintf(w, "asked\thow many\ta second\thalf within\t99 of 100 within\n")
	for _, kind := range []rehearsal.Kind{rehearsal.Orders, rehearsal.Chunks, rehearsal.Reads} {
		a := r.Answers[kind]
		fmt.Fprintf(w, "%s\t%d\t%.0f\t%.1f ms\t%.1f ms\n", kind, a.Count, a.PerS, a.P50MS, a.P99MS)
	}
	for _, f := range r.Invariants {
		fmt.Fprintf(w, "BROKEN\t%s\t%s\n", f.Name, f.Says)
	}
	if r.AllHolds {
		fmt.Fprintf(w, "\nAll that must hold does, in every club.\n")
	}
	return w.Flush()
}
