package meet

import (
	"slices"

	"benchmeet/domain/refusal"
)

// VoidHeat throws the runs of a heat away and has it raced again: power failed,
// or the start was wrong. It does not count against anybody's re-runs.
type VoidHeat struct {
	Heat   HeatID
	Reason Reason
}

// HeatVoided says that a heat's runs do not count and it is raced again.
type HeatVoided struct {
	Ruled
	Heat HeatID `json:"heat"`
}

func (c VoidHeat) decide(s *State, m Meta) ([]Event, error) {
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
	// Posted at once where nobody is left to race it.
	return andPost(s, m, h.ID, HeatVoided{Ruled: ruled, Heat: h.ID}), nil
}

// voidable says whether there is a call, a run or a status to throw away.
func voidable(s *State, h Heat) bool {
	return h.Phase == PhaseCalled || h.Phase == PhaseRacing || slices.ContainsFunc(h.Lanes, func(l Lane) bool {
		ruled := l.Status != s.Entries[l.Entry].StatusOut()
		return h.Begun() && (l.Counts != "" || l.Better != "" || ruled)
	})
}

// Type is the name in the log.
func (HeatVoided) Type() string { return "HeatVoided" }

func (e HeatVoided) apply(s *State) {
	h := s.Heats[e.Heat].withLanes(func(_ int, l Lane) Lane {
		for _, run := range []RunID{l.Counts, l.Better, l.Decider} {
			if r, there := s.Runs[run]; there {
				r.Void = true
				s.Runs[run] = r
			}
		}
		l.Better, l.PenaltyUM = "", 0
		return s.toRace(l)
	})
	h.Phase, h.DeadlineUS, h.ProtestUntilUS, h.StartedUS = PhaseDrawn, 0, 0, 0
	s.Heats[e.Heat] = h
	s.rule(e.Type(), e.Ruled, Ruling{Heat: e.Heat})
}
