package programme

import (
	"slices"

	"benchmeet/domain/day"
	"benchmeet/domain/refusal"
)

// apartFrom is a form whose rounds need not wait for one another: who races in one does
// not depend on what came of those before.
type apartFrom interface{ roundsApart() bool }

// roundsApart is true of rounds that are dealt by lot, or shared out by a design ahead.
func (dealt) roundsApart() bool { return true }

// ClosesBefore is the round that has to be closed before one: behind a stage's last round
// none may be open; 0 where nothing has to.
func ClosesBefore(s *day.State, d day.Division, stage, round int) int {
	_, form := FormOf(d, stage)
	open := s.Programmes[d.ID].OpenRounds(stage)
	if round < form.Rounds(s, d, stage) || len(open) == 0 || open[0] >= round {
		return 0
	}
	return open[0]
}

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
	return len(p.OpenRounds(stage)) == 0
}

// underWay says whether all heats of a round were raced in or are called to their
// benches, so that benches would stand idle without a further draw.
func underWay(s *day.State, r day.RoundState) bool {
	return !slices.ContainsFunc(r.Heats, func(id day.HeatID) bool {
		h := s.Heats[id]
		raced := slices.ContainsFunc(h.Lanes, func(l day.Lane) bool { return l.Counts != "" || l.Better != "" })
		return h.Phase == day.PhaseDrawn && !raced
	})
}

// OpenHeat finds a heat of a division whose result is not posted, those of
// earlier rounds first.
func OpenHeat(s *day.State, d day.DivisionID) (first day.Heat, open bool) {
	for _, h := range s.Heats {
		if h.Division == d && !h.Posted() && (!open || h.Before(first)) {
			first, open = h, true
		}
	}
	return first, open
}

// NextRound says which stage and round of a division is to be drawn now, both from 1.
// It refuses while the last round is open and when the programme is through. Where the
// rounds of a stage do not wait for one another, the next can be drawn once all heats of
// the last are under way; the stage behind them waits for all to be closed.
func NextRound(s *day.State, d day.Division) (stage, round int, err error) {
	p := s.Programmes[d.ID]
	stage, round = p.Round()
	switch {
	case p.EndedEarly:
		return 0, 0, refusal.New("programme-over", "division", d.ID)
	case stage == 0:
		return 1, 1, nil
	}
	_, form := FormOf(d, stage)
	total := form.Rounds(s, d, stage)
	last, _ := p.Current()
	if apart, is := form.(apartFrom); is && apart.roundsApart() && round < total && underWay(s, last) {
		return stage, round + 1, nil
	}
	// A closed round can be open again in part: a ruling let a lane race once
	// more, and who goes on depends on it.
	if h, open := OpenHeat(s, d.ID); open && s.RoundClosed(h) {
		return 0, 0, refusal.New("heat-open", "heat", h.ID, "status", h.Phase)
	}
	if open := p.OpenRounds(stage); len(open) > 0 {
		return 0, 0, refusal.New("round-open", "division", d.ID, "stage", stage, "round", open[0])
	}
	if round < total {
		return stage, round + 1, nil
	}
	if stage < len(d.Stages) {
		return stage + 1, 1, nil
	}
	return 0, 0, refusal.New("programme-over", "division", d.ID)
}
