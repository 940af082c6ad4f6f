package board

import (
	"cmp"
	"slices"

	"benchmeet/domain/day"
	"benchmeet/domain/programme"
)

// CallBoard is what the caller and the hall look at: who races, who is called,
// who gets ready. Each list is in the order in which it will be raced.
type CallBoard struct {
	Racing []day.HeatID
	Called []day.HeatID
	Next   []day.HeatID
	// Posted are the heats whose result is provisional, newest first.
	Posted []day.HeatID
}

// CallBoardOf computes the call board. Heats that were drawn earlier come first;
// a heat that waits for a re-run comes before all that were never called.
func CallBoardOf(s *day.State) CallBoard {
	var b CallBoard
	for _, h := range s.SortedHeats() {
		switch h.Phase {
		case day.PhaseRacing:
			b.Racing = append(b.Racing, h.ID)
		case day.PhaseCalled:
			b.Called = append(b.Called, h.ID)
		case day.PhaseDrawn:
			b.Next = append(b.Next, h.ID)
		case day.PhaseProvisional:
			b.Posted = append(b.Posted, h.ID)
		}
	}
	slices.SortStableFunc(b.Racing, func(x, y day.HeatID) int {
		return cmp.Compare(s.Heats[x].StartedUS, s.Heats[y].StartedUS)
	})
	slices.SortStableFunc(b.Called, func(x, y day.HeatID) int {
		return cmp.Compare(s.Heats[x].CalledUS, s.Heats[y].CalledUS)
	})
	slices.SortStableFunc(b.Next, func(x, y day.HeatID) int {
		hx, hy := s.Heats[x], s.Heats[y]
		return cmp.Or(
			-programme.CompareBool(hx.Begun(), hy.Begun()),
			cmp.Compare(drawnUS(s, hx), drawnUS(s, hy)),
			cmp.Compare(hx.Leg, hy.Leg), // so that cars rest between their legs
			cmp.Compare(hx.Number, hy.Number),
		)
	})
	slices.SortStableFunc(b.Posted, func(x, y day.HeatID) int {
		return -cmp.Compare(s.Heats[x].PostedUS, s.Heats[y].PostedUS)
	})
	return b
}

func drawnUS(s *day.State, h day.Heat) int64 {
	return s.Programmes[h.Division].Stages[h.Stage-1].Rounds[h.Round-1].DrawnUS
}
