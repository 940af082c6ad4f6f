package meet

import "benchmeet/domain/day"

// Meta is what surrounds a command and is not part of it.
type Meta struct {
	// Actor is the id of who gives the command, never a name.
	Actor string
	// NowUS is the server's clock in µs since 1970-01-01 UTC, never before the
	// last event's time but for SetClock.
	NowUS int64
	// Seed is fresh from the server's random source, below 2^53. Commands that
	// draw lots store it in their event; the others ignore it.
	Seed uint64
}

// with is the state after events that were decided but are not stored yet, for
// commands that decide their later events by the effect of the earlier ones.
func with(s *day.State, nowUS int64, events ...day.Event) *day.State {
	next := s.Clone()
	for _, e := range events {
		day.Evolve(next, e, nowUS)
	}
	return next
}
