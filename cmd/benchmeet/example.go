package main

import (
	"context"
	"fmt"
	"log/slog"
	"time"

	"benchmeet/api/auth"
	"benchmeet/api/rehearsal"
	"benchmeet/api/store"
	"benchmeet/api/view"
	"benchmeet/domain/day"
)

// examplePlan is the next example meet that is to be played, the n-th or a later one, and
// whether it was begun: meets that are over, and those whose hall has closed since they were
// left, are not gone on with. A meet that cannot be read is left alone, too.
func (s *server) examplePlan(ctx context.Context, n int, now time.Time) (plan rehearsal.Plan, at int, begun bool) {
	for ; ; n++ {
		plan = rehearsal.ExamplePlan(rehearsal.ExampleOpens(now))
		id, name := plan.Meet, plan.Name
		if n > 1 { // the ones before are over
			id, name = fmt.Sprintf("%s-%d", id, n), fmt.Sprintf("%s %d", name, n)
		}
		snapshot, err := s.meets.At(ctx, store.MeetStream(s.options.Club.ID, id), 0)
		switch {
		case ctx.Err() != nil:
			return plan, n, false
		case err != nil: // damaged
			continue
		case snapshot.State.Planned:
			opens, closes, _ := view.Hours(snapshot.State.Plan)
			if opens == 0 || !now.Before(time.UnixMicro(closes)) || published(snapshot.State) {
				continue
			}
			plan = rehearsal.ExamplePlan(time.UnixMicro(opens))
		}
		plan.Meet, plan.Name = id, name
		return plan, n, snapshot.State.Planned
	}
}

func published(s *day.State) bool {
	for _, d := range s.SortedDivisions() {
		if len(s.Programmes[d.ID].Published) == 0 {
			return false
		}
	}
	return len(s.Divisions) > 0
}

// raceExampleMorning races the morning of the example meet, unless one is under way: by the
// clock of that morning, on a server of its own that nobody knows of and that is gone when this
// returns. So whoever has just started a server sees a day that has a past, is later than
// its families were told, and goes on.
func raceExampleMorning(ctx context.Context, o serverOptions) error {
	now := time.Now()
	if o.Clock != nil {
		now = o.Clock()
	}
	clock := rehearsal.NewClock(rehearsal.ExampleOpens(now))
	o.Listen, o.TLS, o.Feed, o.Proxies = "127.0.0.1:0", tlsSettings{}, "", nil
	o.Scale, o.Clock, o.Stepped, o.Seed = 1, clock.Now, true, rehearsal.ExamplePlan(clock.Now()).Lot
	s, err := startServer(ctx, o)
	if err != nil {
		return err
	}
	defer func() { _ = s.Close() }() // what it tells of is on disk
	plan, _, begun := s.examplePlan(ctx, 1, now)
	if begun || ctx.Err() != nil {
		return nil
	}
	secret := s.tokens.Lent.Make(s.options.Club.ID, auth.Organiser)
	return rehearsal.New(rehearsal.Options{
		Base: s.url(), Token: secret, Plan: plan, Clock: clock, Until: rehearsal.ExampleUntil(now),
	}).Play(ctx)
}

// playExample plays the example meet in real time on simulated benches, so that
// somebody who has just started the server sees a hall at work. A meet whose morning was raced,
// or that an earlier start left in the middle, goes on; when it is over, the next one begins.
func (s *server) playExample(ctx context.Context, log *slog.Logger) {
	secret := s.tokens.Lent.Make(s.options.Club.ID, auth.Organiser) // ends with the process, however it ends
	for n := 1; ctx.Err() == nil; n++ {
		plan, at, begun := s.examplePlan(ctx, n, s.clock.now())
		n = at
		day := rehearsal.New(rehearsal.Options{Base: s.url(), Token: secret, Plan: plan, Pace: rehearsal.Pace{Real: true}})
		play := day.Play
		if begun {
			play = day.GoOn
		}
		if err := play(ctx); err != nil && ctx.Err() == nil {
			log.Error("the example meet stopped", "meet", plan.Meet, "error", err)
		}
	}
}
