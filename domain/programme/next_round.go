package programme

import (
	"benchmeet/domain/day"
	"benchmeet/domain/refusal"
)

// stageDone says whether every round of a stage was drawn and closed.
func stageDone(s *day.State, d day.Division, stage int) bool {
	p := s.Programmes[d.ID]
	if len(p.Stages) < stage {
		return false
	}
	drawn := p.Stages[stage-1]
	_, form := FormOf(d, stage)
	if len(drawn.Rounds) < form.Rounds(s, d, stage) {
		return false
	}
	return drawn.Rounds[len(drawn.Rounds)-1].Closed
}

// OpenHeat finds a heat of a division whose result is not posted, those of
// earlier rounds first.
func OpenHeat(s *day.State, d day.DivisionID) (day.Heat, bool) {
	for _, h := range s.SortedHeats() {
		if h.Division == d && !h.Posted() {
			return h, true
		}
	}
	return day.Heat{}, false
}

// NextRound says which stage and round of a division is to be drawn now, both from 1.
// It refuses while the last round is open and when the programme is through.
func NextRound(s *day.State, d day.Division) (stage, round int, err error) {
	p := s.Programmes[d.ID]
	stage, round = p.Round()
	switch {
	case p.EndedEarly:
		return 0, 0, refusal.New("programme-over", "division", d.ID)
	case stage == 0:
		return 1, 1, nil
	}
	// A closed round can be open again in part: a ruling let a lane race once
	// more, and who goes on depends on it.
	if h, open := OpenHeat(s, d.ID); open && s.RoundClosed(h) {
		return 0, 0, refusal.New("heat-open", "heat", h.ID, "status", h.Phase)
	}
	if last, _ := p.Current(); !last.Closed {
		return 0, 0, refusal.New("round-open", "division", d.ID, "stage", stage, "round", round)
	}
	_, form := FormOf(d, stage)
	if round < form.Rounds(s, d, stage) {
		return stage, round + 1, nil
	}
	if stage < len(d.Stages) {
		return stage + 1, 1, nil
	}
	return 0, 0, refusal.New("programme-over", "division", d.ID)
}
