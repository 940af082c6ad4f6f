package main

import (
	"context"
	"fmt"
	"log/slog"

	"benchmeet/api/auth"
	"benchmeet/api/rehearsal"
	"benchmeet/api/store"
)

// playExample plays the example meet in real time on simulated benches, so that
// somebody who has just started the server sees a hall at work. A meet that an
// earlier start left in the middle goes on; when it is over, the next one begins.
func (s *server) playExample(ctx context.Context, log *slog.Logger) {
	secret := s.tokens.Lent.Make(s.options.Club.ID, auth.Organiser) // ends with the process, however it ends
	plan := rehearsal.ExamplePlan()
	id, name := plan.Meet, plan.Name
	for n := 1; ctx.Err() == nil; n++ {
		if n > 1 { // the ones before are over
			plan.Meet, plan.Name = fmt.Sprintf("%s-%d", id, n), fmt.Sprintf("%s %d", name, n)
		}
		played, err := s.playMeet(ctx, secret, plan)
		if err != nil && ctx.Err() == nil {
			log.Error("the example meet stopped", "meet", plan.Meet, "error", err)
		}
		if played {
			return
		}
	}
}

// playMeet plays a meet, or goes on with it where it was left; false where it is
// over, or cannot be gone on with.
func (s *server) playMeet(ctx context.Context, secret string, plan rehearsal.Plan) (bool, error) {
	day := rehearsal.New(rehearsal.Options{Base: s.url(), Token: secret, Plan: plan, Pace: rehearsal.Pace{Real: true}})
	snapshot, err := s.meets.At(ctx, store.MeetStream(s.options.Club.ID, plan.Meet), 0)
	if err != nil {
		return false, err // damaged: another one is played
	}
	if !snapshot.State.Planned {
		return true, day.Play(ctx)
	}
	return day.GoOn(ctx)
}
