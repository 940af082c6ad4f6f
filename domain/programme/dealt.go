package programme

import (
	"benchmeet/bracket"
	"benchmeet/domain/day"
	"benchmeet/domain/refusal"
)

// dealt is what forms have whose rounds are dealt to heats by lot: everybody races once
// a round, and who is slow in one races in the next all the same.
type dealt struct {
	joinable
	// RoundCount is how many rounds there are; where a design shares out the lanes,
	// how often each entry runs.
	RoundCount int `json:"rounds,omitempty"`
	// LaneDesign draws all rounds at once, so that lanes and meetings are shared out
	// by a published design where one fits.
	LaneDesign bool `json:"lane_design,omitempty"`
}

// methodTimedRounds names the draw in events; raise it when the same seed would
// give another draw.
const methodTimedRounds = "timed-rounds-lot/1"

func (r dealt) checkRounds(d day.DivisionID, number int) error {
	if r.RoundCount < 1 || r.RoundCount > maxRounds {
		return refusal.New("timed-rounds", "division", d, "stage", number, "most", maxRounds)
	}
	return nil
}

// checkDesign refuses a design for single lanes, and late entries where a design
// draws all rounds at once.
func (r dealt) checkDesign(d day.DivisionID, number int, st day.Stage) error {
	switch {
	case r.LaneDesign && st.Lanes < 2:
		return refusal.New("stage-lane-design", "division", d, "stage", number, "lanes", maxLanes)
	case r.LaneDesign && r.Late == day.LateNextRound:
		return refusal.New("stage-late", "division", d, "stage", number)
	}
	return nil
}

// TakesLate is not possible where all rounds were drawn with the first.
func (r dealt) TakesLate(drawn int) bool { return drawn < r.RoundCount && !r.LaneDesign }

// Rounds is how many rounds the stage has in all.
func (r dealt) Rounds(s *day.State, d day.Division, stage int) int {
	if tree := s.Programmes[d.ID].Stages[stage-1].Tree; tree != nil {
		return len(tree.Rounds)
	}
	return r.RoundCount
}

// TableEachRound is true: the results so far rank everybody.
func (dealt) TableEachRound() bool { return true }

// Walkover says whether the last car left in a heat need not race.
func (dealt) Walkover() bool { return false }

// SureRuns is how often everybody races.
func (r dealt) SureRuns(day.Stage, int) (int, error) { return r.RoundCount, nil }

// Ahead deals to heats as even as the draw does. The rounds of a stage with a lane design
// are known once it is drawn; before, by the design that fits, but where entries share a
// car: then more heats may be needed, and are reckoned with.
func (r dealt) Ahead(s *day.State, d day.Division, stage int, cars []int) []RoundAhead {
	p := s.Programmes[d.ID]
	drawn, lanes := 0, d.Stages[stage-1].Lanes
	if benches := len(BenchesInService(s)); benches > 0 {
		lanes = min(lanes, benches)
	}
	fits := false
	if stage <= len(p.Stages) {
		drawn = len(p.Stages[stage-1].Rounds)
		fits = p.Stages[stage-1].Tree != nil
		cars = carsOf(s, seedsAhead(s, d, stage, drawn+1))
	} else if need := r.designFor(day.Stage{Lanes: lanes}, len(cars)); need > 0 {
		fits = r.RoundCount%need == 0
	}
	var out []RoundAhead
	if fits {
		out = treeAhead(s, d, stage, func() (*bracket.Draw, error) {
			tree, _, _, err := bracket.ShareOut(len(cars), r.RoundCount, bracket.TimedOptions{Lanes: lanes, Cars: cars})
			return tree, err
		})
	} else if len(cars) > 0 {
		for round := drawn + 1; round <= r.RoundCount; round++ {
			out = append(out, RoundAhead{Stage: stage, Round: round, Heats: evenHeats(cars, lanes)})
		}
	}
	for i := range out {
		out[i].Apart = out[i].Round > 1
	}
	return out
}

// designFor is the smallest number of rounds for which a design for a field of n is
// known; 0 where the stage wants none, or none is known.
func (r dealt) designFor(st day.Stage, n int) int {
	if design, known := bracket.FindDesign(n, min(st.Lanes, n)); r.LaneDesign && known {
		return design.Runs
	}
	return 0
}

// Draw makes the next round from the seeds.
func (r dealt) Draw(s *day.State, d day.Division, stage, round int, seeds []day.EntryID, lotSeed uint64) (day.RoundDrawn, error) {
	if r.LaneDesign {
		return r.designedRound(s, d, stage, round, seeds, lotSeed)
	}
	out := day.RoundDrawn{Method: methodTimedRounds, Heats: []day.DrawnHeat{}}
	var numbers []int // of those who still race, as positions in seeds
	for i, id := range seeds {
		if s.Entries[id].Racing() {
			numbers = append(numbers, i)
		}
	}
	if len(numbers) == 0 {
		return out, refusal.New("no-entries", "division", d.ID)
	}
	cars := carsOf(s, seeds)
	carOf := make([]int, len(numbers))
	for k, i := range numbers {
		carOf[k] = cars[i]
	}
	made, err := bracket.TimedRound(numbers, bracket.TimedOptions{
		Round:   round,
		Lanes:   min(d.Stages[stage-1].Lanes, len(BenchesInService(s))),
		Cars:    carOf,
		Earlier: earlierHeats(s, d, stage, round, seeds),
		LotSeed: lotSeed,
	})
	if err != nil {
		return out, err
	}
	for _, h := range made.Heats {
		heat := day.DrawnHeat{Entries: []day.EntryID{}}
		for _, slot := range h.Lanes {
			heat.Entries = append(heat.Entries, seeds[slot.Entry])
		}
		out.Heats = append(out.Heats, heat)
	}
	return out, nil
}
