package board

import (
	"slices"

	"benchmeet/domain/day"
)

// protestTasks are the protests that are to be decided, and those that were upheld and
// whose ruling has not been made yet.
func protestTasks(s *day.State) []Task {
	var out []Task
	for id, p := range s.Protests {
		t := Task{Kind: TaskProtest, SinceUS: p.LodgedUS, Protest: id, Heat: p.Heat, Entry: p.Entry, Division: s.Heats[p.Heat].Division}
		if p.Ruled {
			if !p.Upheld || followed(s, p) {
				continue
			}
			t.Kind, t.SinceUS = TaskUpheld, p.RuledUS
		}
		out = append(out, t)
	}
	return out
}

// followed says whether a ruling about a protest's heat, or about a car of it, was made
// since the protest was upheld, whatever it says.
func followed(s *day.State, p day.Protest) bool {
	h := s.Heats[p.Heat]
	return slices.ContainsFunc(s.Rulings, func(r day.Ruling) bool {
		if r.Number <= p.Ruling || r.Kind == (day.ProtestRuled{}).Type() {
			return false
		}
		_, in := h.Lane(r.Entry)
		return r.Heat == p.Heat || r.Heat == "" && in || r.Run != "" && s.Runs[r.Run].Heat == p.Heat
	})
}
