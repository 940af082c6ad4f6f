package view

import (
	"cmp"
	"slices"

	"benchmeet/api/gen"
	"benchmeet/api/wire"
	"benchmeet/domain/day"
)

// putBegun puts in the rounds that began beside what was told of them: how far the day went
// from its times. A round of which nothing stands that was told has no line; times that were
// told anew are those of heats that were still to come.
func putBegun(s *day.State, out *gen.DayPlan) {
	first := map[string]day.Heat{}
	for _, h := range s.SortedHeats() {
		key := h.Division.Round(h.Stage, h.Round)
		if was, there := first[key]; h.CalledUS > 0 && (!there || h.CalledUS < was.CalledUS) {
			first[key] = h
		}
	}
	begun := []gen.BegunRound{}
	for _, h := range first {
		if told := s.HeatPromise(h).NotBeforeUS; told > 0 {
			begun = append(begun, gen.BegunRound{
				Division: string(h.Division), Stage: h.Stage, Round: h.Round, NotBefore: wire.Instant(told), Began: wire.Instant(toSecond(h.CalledUS)),
			})
		}
	}
	slices.SortFunc(begun, func(a, b gen.BegunRound) int {
		return cmp.Or(a.Began.Compare(b.Began), cmp.Compare(a.Division, b.Division), cmp.Compare(a.Stage, b.Stage), cmp.Compare(a.Round, b.Round))
	})
	if len(begun) > 0 {
		out.Begun = &begun
	}
}
