package day

import (
	"slices"

	"benchmeet/bracket"
	"benchmeet/domain/refusal"
)

// Division is an age band crossed with a car class; it has its own programme
// and its own standings.
type Division struct {
	ID      DivisionID `json:"id"`
	Name    string     `json:"name"`
	AgeFrom int        `json:"age_from"` // whole years at the meet's age date
	AgeTo   int        `json:"age_to"`   // inclusive; 0 is no limit
	Class   CarClass   `json:"class"`
	Stages  []Stage    `json:"stages"`
}

// CarClass is what every car of a division must be.
type CarClass struct {
	Name     string `json:"name"`
	WheelUM  int64  `json:"wheel_um,omitempty"`   // usual wheel diameter, for wheel rpm
	LapUM    int64  `json:"lap_um"`               // length that is shown as one lap
	Release  string `json:"release,omitempty"`    // how cars are released at the start
	Cells    int    `json:"cells,omitempty"`      // 0 to 20; 0 is not said
	MassMaxG int    `json:"mass_max_g,omitempty"` // 0 to 10 kg, in g; 0 is no limit
	// Battery is what a pack has to show; nil where the class asks for nothing.
	Battery *ClassBattery `json:"battery,omitempty"`
	// Checklist is what an inspector looks at, in order.
	Checklist []CheckItem `json:"checklist,omitempty"`
	// Incidents are what this class has otherwise than the meet.
	Incidents []IncidentRule `json:"incidents,omitempty"`
}

// StageKind names a form of competition; package programme knows them.
type StageKind string

// Stage is one part of a division's programme.
type Stage struct {
	Kind StageKind `json:"kind"`
	// Rounds is how many rounds are timed, or paired in a Swiss; other formats have theirs.
	Rounds int `json:"rounds,omitempty"`
	// RaceUS is how long a run lasts, in µs.
	RaceUS int64 `json:"race_us"`
	// Lanes is the largest number of cars in a heat.
	Lanes int `json:"lanes"`
	// Rule says which of an entry's runs makes its timed result.
	Rule TimedRule `json:"rule,omitempty"`
	// Entries is how many go on from the stage before; 0 is all.
	Entries int `json:"entries,omitempty"`
	// ThirdPlace adds a heat of the beaten semi-finalists.
	ThirdPlace bool `json:"third_place,omitempty"`
	// SeparateClubs keeps entries of one club apart as long as the draw can.
	SeparateClubs bool `json:"separate_clubs,omitempty"`
	// Seeding is how a first stage is seeded where nobody gives an order; empty is
	// by lot. By hand and by rating the order has to be given before the draw.
	Seeding SeedMethod `json:"seeding,omitempty"`
	// Seeds is how many are seeded, with the others by lot behind; 0 is all.
	Seeds int `json:"seeds,omitempty"`
	// Late says whether somebody may enter after the draw of a first stage,
	// otherwise than the rules of the meet do; empty is as they do.
	Late LateRule `json:"late,omitempty"`
	// Groups is how many groups the field is dealt to.
	Groups int `json:"groups,omitempty"`
	// Cycles is how often each two meet in a round robin or a group; 0 is once.
	Cycles int `json:"cycles,omitempty"`
	// Points are what heats for points are worth; without them UsualPoints.
	Points *HeatPoints `json:"points,omitempty"`
	// Heats is how many heats the first round of a stage of heats has; 0 is as few
	// as its lanes allow. HeatOrder is how entries are spread over them.
	Heats     int               `json:"heats,omitempty"`
	HeatOrder bracket.HeatOrder `json:"heat_order,omitempty"`
	// Advance is how many of each heat go on by their place, NextBest how many more
	// of the round by their distance.
	Advance  int `json:"advance,omitempty"`
	NextBest int `json:"next_best,omitempty"`
	// BFinal adds a heat of the best of those who did not reach the final.
	BFinal bool `json:"b_final,omitempty"`
	// Legs is 2 where every heat of a knockout is raced in two legs with the benches
	// changed, and a decider when they leave it level; 0 and 1 are one race.
	Legs int `json:"legs,omitempty"`
	// Plate lets those who are beaten at once in a knockout go on among themselves.
	Plate bool `json:"plate,omitempty"`
	// LaneDesign draws all rounds at once, so that lanes and meetings are shared out
	// by a published design where one fits; Rounds is then how often each entry runs.
	LaneDesign bool `json:"lane_design,omitempty"`
	// PlacePoints are what the places of a heat are worth in rounds for points, the
	// first place first; without them UsualPlacePoints.
	PlacePoints []int64 `json:"place_points,omitempty"`
	// TieBreaks part entries with equal points, in order; without them those of
	// the form. The names are those of package standings.
	TieBreaks []string `json:"tie_breaks,omitempty"`
}

// TimedRule says which of an entry's runs makes its timed result.
type TimedRule string

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
