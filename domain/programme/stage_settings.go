package programme

import (
	"benchmeet/domain/day"
	"benchmeet/domain/refusal"
)

// checkSeeds refuses a seeding that a stage cannot have.
func checkSeeds(st day.Stage, d day.DivisionID, number int) error {
	switch {
	case !day.OneOf(st.Seeding, "", SeedLot, SeedHand, SeedRating), st.Seeding != "" && number > 1:
		return refusal.New("stage-seeding", "division", d, "stage", number)
	case st.Seeds < 0 || st.Seeds > day.MaxStartNumber:
		return refusal.New("stage-seeds", "division", d, "stage", number, "most", day.MaxStartNumber)
	}
	return nil
}

// checkLate refuses a rule for late entries that a stage cannot have: only a first
// stage takes entries, and none where a design drew all rounds at once.
func checkLate(st day.Stage, d day.DivisionID, number int) error {
	if !day.OneOf(st.Late, "", day.LateNo, day.LateNextRound) || st.Late != "" && number > 1 || st.Late == day.LateNextRound && st.LaneDesign {
		return refusal.New("stage-late", "division", d, "stage", number)
	}
	return nil
}

// TakesLate says whether somebody may still enter a division when so many rounds
// of a stage are drawn: by the stage's own rule, or else the meet's, and only where
// the form has room for it.
func TakesLate(s *day.State, d day.Division, stage, drawn int) bool {
	st, form := FormOf(d, stage)
	rule := s.Rules.Late
	if st.Late != "" {
		rule = st.Late
	}
	return stage == 1 && rule == day.LateNextRound && form.TakesLate(st, drawn)
}

// checkPairs is for forms of heats of two.
func checkPairs(st day.Stage, d day.DivisionID, number int, settings ...string) error {
	if st.Lanes != 2 {
		return refusal.New("stage-pairs", "division", d, "stage", number, "kind", st.Kind)
	}
	return st.Only(d, number, settings...)
}
