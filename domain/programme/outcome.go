package programme

import "benchmeet/domain/day"

// finishOf is a heat's result as a draw takes it.
func drawnFinish(s *day.State, h day.Heat) []LaneResult {
	order, _ := FinishOf(s, h)
	_, form := FormOf(s.Divisions[h.Division], h.Stage)
	if f, is := form.(finisher); is {
		f.finish(s, order)
	}
	return order
}

// outcomeOf is the order of finish that a heat gives to the draw, and whether it
// is known. Of legs only the first gives one, for all of them together.
func outcomeOf(s *day.State, h day.Heat) (order []LaneResult, decided bool) {
	switch h.Leg {
	case 0:
		return drawnFinish(s, h), h.Posted()
	case 1:
		return Match(s, h)
	}
	return nil, false
}
