package day

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
