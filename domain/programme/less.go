package programme

import "benchmeet/domain/day"

// Less are the settings of a form with one thing left out. Code names it: "fewer-rounds",
// "no-third-place" (the heat of the beaten semi-finalists), "no-plate" (the races of those
// who were beaten at once), "one-leg" (no second race of each pair), "no-b-final" (the heat
// of the best who missed the final). What is left can still be refused by [CheckDivision].
type Less struct {
	Code string
	Form day.Settings
}

// lessRound is a form with one round less, where it has one to spare.
func lessRound(form day.Settings, can bool) []Less {
	if !can {
		return nil
	}
	return []Less{{"fewer-rounds", form}}
}
