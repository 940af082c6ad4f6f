package programme

import (
	"benchmeet/domain/day"
	"benchmeet/domain/fairness"
)

// UsualIn is what the counting runs of a division show: the mean speeds that its cars run.
func UsualIn(s *day.State, division day.DivisionID) fairness.Usual {
	var mps []float64
	for _, st := range s.Programmes[division].Stages {
		for _, r := range st.Rounds {
			for _, id := range r.Heats {
				for _, l := range s.Heats[id].Lanes {
					if run, ran := s.Runs[l.Counts]; ran {
						mps = append(mps, speedOf(s, run))
					}
				}
			}
		}
	}
	return fairness.UsualOf(mps)
}

// speedOf is the distance of a run over the time of its race, in m/s: alike for what was
// measured and what was counted by hand.
func speedOf(s *day.State, r day.Run) float64 {
	h := s.Heats[r.Heat]
	return float64(r.Figures.DistanceUM) / float64(s.Divisions[h.Division].Stages[h.Stage-1].RaceUS)
}

// FarOff says why a counting run is none that a car of its division has driven, and
// whether it is. A run that stopped or whose stamps are flagged otherwise is not called
// too short: what they show says more.
func FarOff(s *day.State, u fairness.Usual, r day.Run) (fairness.Note, bool) {
	n, off := u.FarOff(speedOf(s, r))
	if off && n.Code == fairness.FarBelow && len(r.Figures.Flags) > 0 {
		return fairness.Note{}, false
	}
	return n, off
}

// markFarOff marks the runs of a table that are far off and that nobody has ruled on.
func markFarOff(s *day.State, division day.DivisionID, lines []Standing) {
	usual := UsualIn(s, division)
	for i := range lines {
		for k, run := range lines[i].Runs {
			r, ran := s.Runs[run.Run]
			if !ran || !s.Counting(r) {
				continue
			}
			if _, off := FarOff(s, usual, r); off && !s.RuledOn(r) {
				lines[i].Runs[k].FarOff = true
			}
		}
	}
}
