package board

import "benchmeet/domain/day"

// AskOpen is the request for a re-run that waits for an answer in a lane, if
// there is one.
func AskOpen(s *day.State, h day.Heat, l day.Lane) (day.Ask, bool) {
	if !Unanswered(s, h, l) {
		return day.Ask{}, false
	}
	return *l.Asked, true
}

// Unanswered says whether a request waits for an answer: no ruling about the lane
// has followed it.
func Unanswered(s *day.State, h day.Heat, l day.Lane) bool {
	if l.Asked == nil || h.Phase == day.PhaseOfficial {
		return false
	}
	for _, r := range s.Rulings[l.Asked.Rulings:] {
		if r.Heat == h.ID && (r.Entry == l.Entry || r.Entry == "") {
			return false
		}
	}
	return true
}
