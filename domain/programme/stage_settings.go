package programme

import (
	"slices"

	"benchmeet/bracket"
	"benchmeet/domain/day"
	"benchmeet/domain/refusal"
)

// sown is what forms have that draw from seeds.
type sown struct {
	// Seeding is how a first stage is seeded where nobody gives an order; empty is
	// by lot. By hand and by rating the order has to be given before the draw.
	Seeding day.SeedMethod `json:"seeding,omitempty"`
	// Seeds is how many are seeded, with the others by lot behind; 0 is all.
	Seeds int `json:"seeds,omitempty"`
}

func (o sown) sowing() sown { return o }

// sownOf are a stage's settings of seeds; false for one that deals by lot and knows
// no seeds.
func sownOf(st day.Stage) (sown, bool) {
	form, is := st.Form.(interface{ sowing() sown })
	if !is {
		return sown{}, false
	}
	return form.sowing(), true
}

// checkSeeds refuses a seeding that a stage cannot have.
func checkSeeds(st day.Stage, d day.DivisionID, number int) error {
	switch o, _ := sownOf(st); {
	case !day.OneOf(o.Seeding, "", SeedLot, SeedHand, SeedRating), o.Seeding != "" && number > 1:
		return refusal.New("stage-seeding", "division", d, "stage", number)
	case o.Seeds < 0 || o.Seeds > day.MaxStartNumber:
		return refusal.New("stage-seeds", "division", d, "stage", number, "most", day.MaxStartNumber)
	}
	return nil
}

// joinable is what forms have that can take an entry after a draw.
type joinable struct {
	// Late says whether somebody may enter after the draw of a first stage,
	// otherwise than the rules of the meet do; empty is as they do.
	Late day.LateRule `json:"late,omitempty"`
}

func (j joinable) joining() day.LateRule { return j.Late }

// joiningOf is a stage's own rule for late entries; empty where it has none.
func joiningOf(st day.Stage) day.LateRule {
	if form, is := st.Form.(interface{ joining() day.LateRule }); is {
		return form.joining()
	}
	return ""
}

// checkLate refuses a rule for late entries that a stage cannot have: only a first
// stage takes entries.
func checkLate(st day.Stage, d day.DivisionID, number int) error {
	if late := joiningOf(st); !day.OneOf(late, "", day.LateNo, day.LateNextRound) || late != "" && number > 1 {
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
	if own := joiningOf(st); own != "" {
		rule = own
	}
	return stage == 1 && rule == day.LateNextRound && form.TakesLate(drawn)
}

// firstStageOnly refuses a setting that no later stage can have, whatever its form.
func firstStageOnly(d day.DivisionID, number int, setting string) error {
	switch {
	case number > 1 && setting == "seeding":
		return refusal.New("stage-seeding", "division", d, "stage", number)
	case number > 1 && setting == "late":
		return refusal.New("stage-late", "division", d, "stage", number)
	}
	return nil
}

// apart is what forms have whose draw can keep entries from meeting.
type apart struct {
	// SeparateClubs keeps entries of one club apart as long as the draw can.
	SeparateClubs bool `json:"separate_clubs,omitempty"`
}

func (a apart) parting() bool { return a.SeparateClubs }

// separatesClubs says whether the draw of a stage keeps clubs apart.
func separatesClubs(st day.Stage) bool {
	form, is := st.Form.(interface{ parting() bool })
	return is && form.parting()
}

// checkPairs is for forms of heats of two.
func checkPairs(st day.Stage, d day.DivisionID, number int) error {
	if st.Lanes != 2 {
		return refusal.New("stage-pairs", "division", d, "stage", number, "kind", st.Kind())
	}
	return nil
}

// drawnWhole is what forms have that are drawn as a whole with their first round: the
// draw says how many rounds there are, nobody comes later, and who is alone in a heat
// goes on without a race.
type drawnWhole struct{}

// TakesLate says whether an entry may come after the first draw.
func (drawnWhole) TakesLate(int) bool { return false }

// Rounds is how many rounds the stage has in all.
func (drawnWhole) Rounds(s *day.State, d day.Division, stage int) int {
	return len(s.Programmes[d.ID].Stages[stage-1].Tree.Rounds)
}

// Walkover says whether the last car left in a heat need not race.
func (drawnWhole) Walkover() bool { return true }

// leastRuns is the least over all entries of a draw, each heat having so many legs.
func leastRuns(d *bracket.Draw, err error) (int, error) {
	if err != nil {
		return 0, err
	}
	return slices.Min(d.RunsAtLeast()) * max(1, d.Legs), nil
}
