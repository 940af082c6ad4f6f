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

// waiting is a heat on the call board with what its place there follows from.
type waiting struct {
	// place is its place in the order that was given: behind it are those that have none,
	// before it those that wait for a re-run and have none.
	place                     int
	id                        day.HeatID
	us                        int64 // since when it stands in its list
	begun                     bool
	division                  day.DivisionID
	stage, round, number, leg int
}

// drawnOrder is the order of heats by division, stage, round and number.
func drawnOrder(x, y waiting) int {
	return cmp.Or(
		cmp.Compare(x.division, y.division), cmp.Compare(x.stage, y.stage), cmp.Compare(x.round, y.round),
		cmp.Compare(x.number, y.number), cmp.Compare(x.leg, y.leg),
	)
}

// sinceOrder is the order in which heats came into a list.
func sinceOrder(x, y waiting) int { return cmp.Or(cmp.Compare(x.us, y.us), drawnOrder(x, y)) }

// CallBoardOf computes the call board. Heats stand in the order that was given to them;
// without one, or behind it, those that were drawn earlier come first. A heat that waits for
// a re-run comes before all that were never called.
func CallBoardOf(s *day.State) CallBoard {
	place := make(map[day.HeatID]int, len(s.Order))
	for i, id := range s.Order {
		place[id] = i + 1
	}
	var racing, called, next, posted []waiting
	for id, h := range s.Heats {
		w := waiting{id: id, division: h.Division, stage: h.Stage, round: h.Round, number: h.Number, leg: h.Leg}
		switch h.Phase {
		case day.PhaseRacing:
			w.us = h.StartedUS
			racing = append(racing, w)
		case day.PhaseCalled:
			w.us = h.CalledUS
			called = append(called, w)
		case day.PhaseDrawn:
			w.us, w.begun = drawnUS(s, h), h.Begun()
			if at, given := place[id]; given {
				w.place = at
			} else if !w.begun {
				w.place = len(s.Order) + 1
			}
			next = append(next, w)
		case day.PhaseProvisional:
			w.us = -h.PostedUS
			posted = append(posted, w)
		}
	}
	return CallBoard{
		Racing: inOrder(racing, sinceOrder), Called: inOrder(called, sinceOrder), Posted: inOrder(posted, sinceOrder),
		Next: inOrder(next, func(x, y waiting) int {
			return cmp.Or(
				cmp.Compare(x.place, y.place),
				-programme.CompareBool(x.begun, y.begun),
				cmp.Compare(x.us, y.us),
				cmp.Compare(x.leg, y.leg), // so that cars rest between their legs
				cmp.Compare(x.number, y.number),
				drawnOrder(x, y),
			)
		}),
	}
}

// inOrder are the heats of a list in its order, which is one of all heats: none are
// level in it.
func inOrder(list []waiting, order func(x, y waiting) int) []day.HeatID {
	slices.SortFunc(list, order)
	var out []day.HeatID
	for _, w := range list {
		out = append(out, w.id)
	}
	return out
}

func drawnUS(s *day.State, h day.Heat) int64 {
	return s.Programmes[h.Division].Stages[h.Stage-1].Rounds[h.Round-1].DrawnUS
}
