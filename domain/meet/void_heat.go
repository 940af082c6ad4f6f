package meet

import (
	"slices"

	"benchmeet/domain/day"
	"benchmeet/domain/refusal"
)

// VoidHeat throws the runs of a heat away and has it raced again: power failed,
// or the start was wrong. It does not count against anybody's re-runs.
type VoidHeat struct {
	Heat   day.HeatID
	Reason day.Reason
}

func (c VoidHeat) decide(s *day.State, m Meta) ([]day.Event, error) {
	h, err := s.Heat(c.Heat)
	if err != nil {
		return nil, err
	}
	ruled, err := ruledBy(s, m, c.Reason, h)
	if err != nil {
		return nil, err
	}
	if !voidable(s, h) {
		return nil, refusal.New("void-nothing", "heat", h.ID)
	}
	e := day.HeatVoided{Ruled: ruled, Heat: h.ID}
	for _, l := range h.Lanes {
		for _, run := range []day.RunID{l.Counts, l.Better, l.Decider} {
			if _, there := s.Runs[run]; there {
				e.VoidRuns = append(e.VoidRuns, run)
			}
		}
		e.Again = append(e.Again, begins(s, l.Entry))
	}
	// Posted at once where nobody is left to race it.
	return andPost(s, m, h.ID, e), nil
}

// voidable says whether there is a call, a run or a status to throw away.
func voidable(s *day.State, h day.Heat) bool {
	return h.Phase == day.PhaseCalled || h.Phase == day.PhaseRacing || slices.ContainsFunc(h.Lanes, func(l day.Lane) bool {
		ruled := l.Status != s.Entries[l.Entry].StatusOut()
		return h.Begun() && (l.Counts != "" || l.Better != "" || ruled)
	})
}
