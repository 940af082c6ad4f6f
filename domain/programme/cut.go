package programme

import "benchmeet/domain/day"

// CutCode names what is left out.
type CutCode string

// What can be left out of a stage.
const (
	CutRound      CutCode = "fewer-rounds"   // one round of those in which everybody races
	CutThirdPlace CutCode = "no-third-place" // the heat of the beaten semi-finalists
	CutPlate      CutCode = "no-plate"       // the races of those who were beaten at once
	CutLeg        CutCode = "one-leg"        // the second race of each pair, and its decider
	CutBFinal     CutCode = "no-b-final"     // the heat of the best who missed the final
)

// StageCut is a stage with something left out.
type StageCut struct {
	Code  CutCode
	Stage day.Stage
}

// StageCuts are a stage with one thing left out each time; none where its form has
// nothing that it can do without. What is left can still be refused by [CheckDivision].
func StageCuts(st day.Stage) (out []StageCut) {
	leave := func(code CutCode, form day.Settings) {
		cut := st
		cut.Form = form
		out = append(out, StageCut{code, cut})
	}
	switch form := st.Form.(type) {
	case timedRounds:
		if form.RoundCount > 1 {
			form.RoundCount--
			leave(CutRound, form)
		}
	case pointsRounds:
		if form.RoundCount > 1 {
			form.RoundCount--
			leave(CutRound, form)
		}
	case swiss:
		if form.RoundCount > 1 {
			form.RoundCount--
			leave(CutRound, form)
		}
	case knockout:
		whole := form
		if whole.ThirdPlace {
			form.ThirdPlace = false
			leave(CutThirdPlace, form)
		}
		if form = whole; whole.Plate {
			form.Plate = false
			leave(CutPlate, form)
		}
		if form = whole; whole.Legs == 2 {
			form.Legs = 0
			leave(CutLeg, form)
		}
	case manyLanes:
		if form.BFinal {
			form.BFinal = false
			leave(CutBFinal, form)
		}
	}
	return out
}

// inRounds says whether a stage ranks everybody after each of its rounds, so that it can
// end after any of them.
func inRounds(st day.Stage) bool {
	switch st.Form.(type) {
	case timedRounds, pointsRounds, swiss, roundRobin:
		return true
	}
	return false
}

// EndsAfterRound says whether the last stage of a division is under way in rounds that each
// leave a table, and has more of them ahead: the division can be ended after the one that is
// drawn.
func EndsAfterRound(s *day.State, d day.Division) bool {
	stage, round := s.Programmes[d.ID].Round()
	if stage == 0 || stage < len(d.Stages) || s.Programmes[d.ID].EndedEarly {
		return false
	}
	st, form := FormOf(d, stage)
	return inRounds(st) && round < form.Rounds(s, d, stage)
}
