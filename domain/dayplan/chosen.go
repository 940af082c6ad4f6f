package dayplan

import (
	"slices"

	"benchmeet/domain/day"
)

// Chosen is a cut as it is kept with the plan.
func (c Cut) Chosen() day.ChosenCut {
	return day.ChosenCut{
		Code: string(c.Code), Division: c.Division, Stage: c.Stage, SavesUS: c.SavesUS, Entries: c.Entries,
		RunsBefore: c.RunsBefore, RunsAfter: c.RunsAfter, FairUntilUS: c.ByUS,
	}
}

// OnList is the place of a cut on the list that was chosen before the day, from 1; 0 where it
// is not on it. What was chosen before a draw goes under another name after it: to leave out
// the last stage is to end behind the one before, and to race fewer rounds to end after one.
func (c Cut) OnList(list []day.ChosenCut) int {
	return 1 + slices.IndexFunc(list, func(chosen day.ChosenCut) bool {
		if chosen.Division != c.Division {
			return false
		}
		code, stage := CutCode(chosen.Code), chosen.Stage
		switch {
		case code == c.Code && stage == c.Stage:
			return true
		case c.Code == CutAfterStage:
			return code == CutLastStage && stage == c.Stage+1
		case c.Code == CutAfterRound:
			return code == cutFewerRounds && stage == c.Stage
		}
		return false
	})
}
