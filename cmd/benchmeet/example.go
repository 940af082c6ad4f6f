package main

import (
	"context"
	"log/slog"

	"benchmeet/api/auth"
	"benchmeet/api/rehearsal"
)

// playExample plays the example meet in real time on simulated benches, so that
// somebody who has just started the server sees a hall at work.
func (s *server) playExample(ctx context.Context, log *slog.Logger) {
	secret, _, err := s.tokens.Make(ctx, auth.Wish{Club: s.options.Club.ID, Role: auth.Organiser, Label: "example meet"})
	if err != nil {
		log.Error("the example meet cannot be played", "error", err)
		return
	}
	plan := rehearsal.ExamplePlan()
	err = rehearsal.New(rehearsal.Options{
		Base: s.url(), Token: secret, Plan: plan, Pace: rehearsal.Pace{Real: true},
	}).Play(ctx)
	if err != nil && ctx.Err() == nil {
		log.Error("the example meet stopped", "error", err)
	}
}
