package programme

import (
	"benchmeet/domain/day"
	"benchmeet/domain/fairness"
)

// UsualIn is what the counting runs of a division show: the mean speeds that its cars run.
func UsualIn(s *day.State, division day.DivisionID) fairness.Usual {
	var mps []float64
	planned := s.Divisions[division].Stages
	for i, st := range s.Programmes[division].Stages {
		for _, r := range st.Rounds {
			for _, id := range r.Heats {
				for _, l := range s.Heats[id].Lanes {
					if run, ran := s.Runs[l.Counts]; ran {
						mps = append(mps, speedOf(run, planned[i].RaceUS))
					}
				}
			}
		}
	}
	return fairness.UsualOf(mps)
}

// speedOf is the distance of a run over the time of its race, in m/s: alike for what was
// measured and what was counted by hand.
func speedOf(r day.Run, raceUS int64) float64 {
	return float64(r.Figures.DistanceUM) / float64(raceUS)
}

// FarOff says why a counting run is none that a car of its division has driven, and
// whether it is. A run that stopped or whose stamps are flagged otherwise is not called
// too short: what they show says more.
func FarOff(s *day.State, u fairness.Usual, r day.Run) (fairness.Note, bool) {
	h := s.Heats[r.Heat]
	return farOff(u, r, s.Divisions[h.Division].Stages[h.Stage-1].RaceUS)
}

func farOff(u fairness.Usual, r day.Run, raceUS int64) (fairness.Note, bool) {
	n, off := u.FarOff(speedOf(r, raceUS))
	if off && n.Code == fairness.FarBelow && len(r.Figures.Flags) > 0 {
		return fairness.Note{}, false
	}
	return n, off
}

// markFarOff marks the runs of a table that are far off and that nobody has ruled on.
// Nearly none is, so what costs more is asked of those alone.
func markFarOff(s *day.State, division day.DivisionID, lines []Standing) {
	usual, planned := UsualIn(s, division), s.Divisions[division].Stages
	for i := range lines {
		for k, run := range lines[i].Runs {
			r, ran := s.Runs[run.Run]
			if !ran {
				continue
			}
			if _, off := farOff(usual, r, planned[lines[i].Stage-1].RaceUS); off && s.Counting(r) && !s.RuledOn(r) {
				lines[i].Runs[k].FarOff = true
			}
		}
	}
}
