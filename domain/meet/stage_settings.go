package meet

import (
	"slices"

	"benchmeet/domain/refusal"
)

// Only refuses settings that belong to other forms than the stage's, so that
// nobody believes in a setting that has no effect.
func (st Stage) Only(d DivisionID, number int, settings ...string) error {
	for _, setting := range []struct {
		name  string
		given bool
	}{
		{"rounds", st.Rounds != 0},
		{"rule", st.Rule != ""},
		{"third_place", st.ThirdPlace},
		{"seeding", st.Seeding != ""},
		{"seeds", st.Seeds != 0},
		{"separate_clubs", st.SeparateClubs},
		{"late", st.Late != ""},
		{"groups", st.Groups != 0},
		{"cycles", st.Cycles != 0},
		{"points", st.Points != nil},
		{"heats", st.Heats != 0},
		{"heat_order", st.HeatOrder != ""},
		{"advance", st.Advance != 0},
		{"next_best", st.NextBest != 0},
		{"b_final", st.BFinal},
		{"legs", st.Legs != 0},
		{"plate", st.Plate},
		{"lane_design", st.LaneDesign},
		{"place_points", len(st.PlacePoints) > 0},
		{"tie_breaks", len(st.TieBreaks) > 0},
	} {
		if setting.given && !slices.Contains(settings, setting.name) {
			return refusal.New("stage-setting", "division", d, "stage", number, "kind", st.Kind, "setting", setting.name)
		}
	}
	return nil
}

// checkSeeds refuses a seeding that a stage cannot have.
func checkSeeds(st Stage, d DivisionID, number int) error {
	switch {
	case !OneOf(st.Seeding, "", SeedLot, SeedHand, SeedRating), st.Seeding != "" && number > 1:
		return refusal.New("stage-seeding", "division", d, "stage", number)
	case st.Seeds < 0 || st.Seeds > MaxStartNumber:
		return refusal.New("stage-seeds", "division", d, "stage", number, "most", MaxStartNumber)
	}
	return nil
}

// checkLate refuses a rule for late entries that a stage cannot have: only a first
// stage takes entries, and none where a design drew all rounds at once.
func checkLate(st Stage, d DivisionID, number int) error {
	if !OneOf(st.Late, "", LateNo, LateNextRound) || st.Late != "" && number > 1 || st.Late == LateNextRound && st.LaneDesign {
		return refusal.New("stage-late", "division", d, "stage", number)
	}
	return nil
}

// TakesLate says whether somebody may still enter a division when so many rounds
// of a stage are drawn: by the stage's own rule, or else the meet's, and only where
// the form has room for it.
func TakesLate(s *State, d Division, stage, drawn int) bool {
	st, form := FormOf(d, stage)
	rule := s.Rules.Late
	if st.Late != "" {
		rule = st.Late
	}
	return stage == 1 && rule == LateNextRound && form.TakesLate(st, drawn)
}

// checkPairs is for forms of heats of two.
func checkPairs(st Stage, d DivisionID, number int, settings ...string) error {
	if st.Lanes != 2 {
		return refusal.New("stage-pairs", "division", d, "stage", number, "kind", st.Kind)
	}
	return st.Only(d, number, settings...)
}
