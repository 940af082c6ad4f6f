package board

import "benchmeet/domain/day"

// RulesFixed says whether a heat was called or raced: from then on the rules stand.
func RulesFixed(s *day.State) bool {
	for _, h := range s.Heats {
		if h.Begun() {
			return true
		}
	}
	return false
}
