package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"log/slog"
	"os"
	"strings"
	"text/tabwriter"
	"time"

	"github.com/spf13/cobra"

	"benchmeet/api/auth"
	"benchmeet/api/rehearsal"
	"benchmeet/api/store"
	"benchmeet/cmd/benchmeet/sheet"
)

const rehearseHelp = `
Plays a whole made-up meet through a real server over HTTP and WebSocket, with
simulated benches and their faults, faster than life: plan, entries, practice,
timed rounds, re-runs, knockout, results. Then it checks that nothing was lost
or doubled, that the standings equal those recomputed from the log, that a
restarted server shows the same, and that every screen ended on the same
standings. It prints the standings, how far the day went from its timetable, and a
summary, and exits 1 if anything that must hold does not.

The day goes by its timetable: before the first race the hall is told its times,
heats are called in the order of the plan and none before its time, and calls,
posting, changes and draws take as long as people need, by a clock of the day's own.
So it says for each round when it was to begin and when it began, by how much half
of the heats and the last race were late, and which promises were not kept.

The same --seed, --entries and --benches give the same standings at the same times,
on SQLite and on PostgreSQL. --plan FILE plays a meet of your own: JSON as
--print-plan shows it; a division may list its "stages" as the API takes them.

--clubs N plays N such meets at once, each of a club of its own on the one server,
and says how many orders, chunks of stamps and questions that were and how quickly
they were answered. Server and clubs share this machine.

Example:
  benchmeet rehearse --seed 7 --entries 24 --benches 6 --json`

// rehearseSettings are the flags of "benchmeet rehearse".
type rehearseSettings struct {
	seed             uint64
	entries, benches int
	screens          int
	clubCount        int
	scale            float64
	plan             string
	database         string
	json, keep, show bool
}

func newRehearseCommand() *cobra.Command {
	var o rehearseSettings
	cmd := &cobra.Command{
		Use:   "rehearse",
		Short: "Play a made-up meet through a real server and check it",
		Long:  strings.TrimSpace(rehearseHelp),
		Args:  cobra.NoArgs,
		RunE:  func(cmd *cobra.Command, _ []string) error { return rehearse(cmd, o) },
	}
	f := cmd.Flags()
	f.Uint64Var(&o.seed, "seed", 1, "of the whole meet")
	f.IntVar(&o.entries, "entries", 24, "how many children (4 to 400)")
	f.IntVar(&o.benches, "benches", 6, "how many benches (1 to 64)")
	f.IntVar(&o.screens, "screens", 8, "how many screens listen")
	f.IntVar(&o.clubCount, "clubs", 1, "how many clubs play, each a meet of its own, at once")
	f.Float64Var(&o.scale, "scale", 1000, "with --clubs, how much faster than life the server's clock runs")
	f.StringVar(&o.plan, "plan", "", "play the meet in this file")
	f.StringVar(&o.database, "database", "", "postgres://... instead of a temporary SQLite file")
	f.BoolVar(&o.json, "json", false, "print JSON")
	f.BoolVar(&o.keep, "keep", false, "leave the server up to look at")
	f.BoolVar(&o.show, "print-plan", false, "print the plan and play nothing")
	return cmd
}

func (o rehearseSettings) makePlan(cmd *cobra.Command) (rehearsal.Plan, error) {
	if o.plan == "" {
		if o.entries < 4 || o.entries > 400 || o.benches < 1 || o.benches > 64 {
			return rehearsal.Plan{}, errors.New("--entries is 4 to 400 and --benches 1 to 64")
		}
		return rehearsal.MakePlan(o.seed, o.entries, o.benches), nil
	}
	var p rehearsal.Plan
	text, err := readInput(cmd, o.plan)
	if err != nil {
		return p, err
	}
	if err := sheet.Decode(text, &p); err != nil {
		return p, fmt.Errorf("%s: %w", o.plan, err)
	}
	return p, p.Check()
}

func rehearse(cmd *cobra.Command, o rehearseSettings) error {
	plan, err := o.makePlan(cmd)
	if err == nil {
		err = o.checkClubs()
	}
	if err != nil {
		return err
	}
	if o.show {
		return writeJSON(cmd, plan)
	}
	data, err := os.MkdirTemp("", "benchmeet-rehearsal-")
	if err != nil {
		return err
	}
	if !o.keep {
		defer func() { _ = os.RemoveAll(data) }() // it is in the folder for what goes
	}
	ctx := cmd.Context()
	so := serverOptions{
		Listen: "127.0.0.1:0", Data: data, Database: o.database, Scale: o.scale,
		Club: store.Club{ID: fmt.Sprintf("rehearsal-%d", time.Now().UnixNano()), Name: "Rehearsal club"},
		Seed: plan.Lot,
		Log:  slog.New(slog.NewTextHandler(cmd.ErrOrStderr(), &slog.HandlerOptions{Level: slog.LevelWarn})),
	}
	if o.clubCount > 1 {
		return rehearseClubs(cmd, o, so)
	}
	report, s, err := o.play(ctx, plan, so)
	if err != nil {
		return err
	}
	defer func() { _ = s.Close() }() // what it tells of has been checked
	// The report comes first, whatever it says: it is most wanted where something does not hold.
	if o.json {
		err = writeJSON(cmd, report)
	} else {
		err = printReport(cmd.OutOrStdout(), report)
	}
	if err != nil {
		return err
	}
	if o.keep {
		fmt.Fprintf(cmd.ErrOrStderr(), "The server stays up at %s (data in %s); end it with Ctrl-C.\n", s.url(), data)
		<-ctx.Done()
	}
	for _, f := range report.Invariants {
		if !f.Holds {
			return refuse("%s does not hold: %s", f.Name, f.Says)
		}
	}
	return nil
}

// rehearseWithin bounds a rehearsal, so that a fault ends it with a message.
const rehearseWithin = 30 * time.Minute

// play plays the day, checks it, restarts the server and checks again. The
// server that it returns is up.
func (o rehearseSettings) play(ctx context.Context, plan rehearsal.Plan, so serverOptions) (rehearsal.Report, *server, error) {
	ctx, cancel := context.WithTimeout(ctx, rehearseWithin)
	defer cancel()
	began := time.Now()
	starts, err := plan.Starts()
	if err != nil {
		return rehearsal.Report{}, nil, err
	}
	clock := rehearsal.NewClock(starts)
	so.Scale, so.Clock, so.Stepped = 1, clock.Now, true
	s, err := startServer(ctx, so)
	if err != nil {
		return rehearsal.Report{}, nil, err
	}
	// The caller closes the server only where it gets one.
	fail := func(err error) (rehearsal.Report, *server, error) {
		return rehearsal.Report{}, nil, errors.Join(err, s.Close())
	}
	secret, _, err := s.tokens.Make(ctx, auth.Wish{Club: so.Club.ID, Role: auth.Organiser, Label: "rehearsal"})
	if err != nil {
		return fail(err)
	}
	day := rehearsal.New(rehearsal.Options{Base: s.url(), Token: secret, Plan: plan, Clock: clock})
	listening, stop := context.WithCancel(ctx)
	defer stop()
	day.Listen(listening, o.screens)
	if err := day.Play(ctx); err != nil {
		return fail(err)
	}
	before, err := day.Gather(ctx)
	if err != nil {
		return fail(err)
	}
	findings := append(day.Check(before), day.ScreensAgree(ctx, before))
	// At the same address, so that the boxes and screens of the day find it again.
	so.Listen = s.address.String()
	if err := s.Close(); err != nil {
		return rehearsal.Report{}, nil, err
	}
	if s, err = startServer(ctx, so); err != nil {
		return rehearsal.Report{}, nil, err
	}
	after, err := day.Gather(ctx)
	if err != nil {
		return fail(err)
	}
	findings = append(findings, rehearsal.SameAfterRestart(before, after))
	clock.Go()
	return day.Report(after, findings, storeKind(so.Database), time.Since(began)), s, nil
}

// printDrift prints how far the day went from its timetable.
func printDrift(w io.Writer, d *rehearsal.Drift) {
	if d == nil {
		return
	}
	fmt.Fprintf(w, "\nround\tplanned\tbegan\tdrift\n")
	for _, r := range d.Rounds {
		fmt.Fprintf(w, "%s %d.%d\t%s\t%s\t%+.1f min\n", r.Division, r.Stage, r.Round,
			r.Planned.Format(time.TimeOnly), r.Started.Format(time.TimeOnly), r.DriftS/60)
	}
	fmt.Fprintf(w, "Largest drift of a round %+.1f min; half of %d heats %+.1f min or less, the furthest %+.1f min.\n",
		d.LargestS/60, d.Heats, d.HeatMedianS/60, d.HeatLargestS/60)
	fmt.Fprintf(w, "Of %d times that were told, %d were not kept. Over at %s, planned for %s: %+.1f min.\n",
		d.Promises, len(d.Broken), d.Ended.Format(time.TimeOnly), d.PlannedEnd.Format(time.TimeOnly), d.EndS/60)
}

func printReport(out io.Writer, r rehearsal.Report) error {
	w := tabwriter.NewWriter(out, 0, 4, 2, ' ', 0)
	for _, d := range r.Standings {
		fmt.Fprintf(w, "%s\n", strings.ToUpper(d.Division))
		for _, l := range d.Lines {
			place := "-"
			if l.Rank > 0 {
				place = fmt.Sprint(l.Rank)
			}
			fmt.Fprintf(w, "%s\t%d\t%s\t%.2f m\t%s\t%s\n", place, l.StartNumber, l.Nickname, l.DistanceM, l.Exit, l.Status)
		}
		fmt.Fprintln(w)
	}
	for _, f := range r.Invariants {
		mark := "holds"
		if !f.Holds {
			mark = "BROKEN"
		}
		fmt.Fprintf(w, "%s\t%s\t%s\n", mark, f.Name, f.Says)
	}
	printDrift(w, r.Drift)
	sum := r.Summary
	fmt.Fprintf(w, "\n%d events, %d heats, %d runs (%d waited), %d rulings, %d frames on %d screens, %.1f s on %s\n",
		sum.Events, sum.Heats, sum.Runs, sum.Waiting, sum.Rulings, sum.Frames, sum.Screens, sum.Seconds, sum.Store)
	return w.Flush()
}
