package main

import (
	"context"
	"fmt"
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
	if plan.Meet, err = s.freeMeet(ctx, plan.Meet); err != nil {
		log.Error("the example meet cannot be played", "error", err)
		return
	}
	err = rehearsal.New(rehearsal.Options{
		Base: s.url(), Token: secret, Plan: plan, Pace: rehearsal.Pace{Real: true},
	}).Play(ctx)
	if err != nil && ctx.Err() == nil {
		log.Error("the example meet stopped", "error", err)
	}
}

// freeMeet is an id that no meet has: the example is played anew at every start.
func (s *server) freeMeet(ctx context.Context, id string) (string, error) {
	streams, err := s.store.Streams(ctx, s.options.Club.ID)
	if err != nil {
		return "", err
	}
	taken := map[string]bool{}
	for _, head := range streams {
		if meet, is := head.Stream.Meet(); is {
			taken[meet] = true
		}
	}
	free := id
	for n := 2; taken[free]; n++ {
		free = fmt.Sprintf("%s-%d", id, n)
	}
	return free, nil
}
