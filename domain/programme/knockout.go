package programme

import (
	"cmp"
	"fmt"
	"slices"

	"benchmeet/bracket"
	"benchmeet/domain/day"
	"benchmeet/domain/refusal"
)

// knockout is the form in which the winner of each heat of two goes on.
type knockout struct {
	drawnWhole
	sown
	apart
	// ThirdPlace adds a heat of the beaten semi-finalists.
	ThirdPlace bool `json:"third_place,omitempty"`
	// Legs is 2 where every heat is raced in two legs with the benches changed, and a
	// decider when they leave it level; 0 and 1 are one race.
	Legs int `json:"legs,omitempty"`
	// Plate lets those who are beaten at once go on among themselves.
	Plate bool `json:"plate,omitempty"`
	// Rule means nothing here; plans have always been allowed to name it.
	Rule timedRule `json:"rule,omitempty"`
}

func init() { enter[knockout]() }

// Kind names the form.
func (knockout) Kind() day.StageKind { return "knockout" }

// Less is the knockout without its race for third place, its plate or its second legs.
func (f knockout) Less() (out []Less) {
	if less := f; f.ThirdPlace {
		less.ThirdPlace = false
		out = append(out, Less{"no-third-place", less})
	}
	if less := f; f.Plate {
		less.Plate = false
		out = append(out, Less{"no-plate", less})
	}
	if less := f; f.Legs == 2 {
		less.Legs = 0
		out = append(out, Less{"one-leg", less})
	}
	return out
}

// methodKnockout names the draw in events; raise it when the same seed would
// give another draw.
const methodKnockout = "knockout-nested/2"

// Check refuses settings that the form cannot have.
func (k knockout) Check(d day.DivisionID, number int, st day.Stage) error {
	if st.Lanes != 2 {
		return refusal.New("knockout-lanes", "division", d, "stage", number)
	}
	if k.Legs < 0 || k.Legs > 2 {
		return refusal.New("knockout-legs", "division", d, "stage", number)
	}
	return nil
}

func (knockout) foreign(d day.DivisionID, number int, setting string) error {
	if setting == "rounds" {
		return refusal.New("knockout-rounds", "division", d, "stage", number)
	}
	return nil
}

// Draw makes the next round from the seeds.
func (k knockout) Draw(s *day.State, d day.Division, stage, round int, seeds []day.EntryID, lotSeed uint64) (day.RoundDrawn, error) {
	return drawnTree(s, methodKnockout, d, stage, round, seeds, func() (*bracket.Draw, error) {
		return bracket.Knockout(len(seeds), bracket.KnockoutOptions{
			Seeds:      seeded(s, d, stage, seeds),
			Cars:       carsOf(s, seeds),
			Clubs:      apartOf(s, d, stage, seeds),
			ThirdPlace: k.ThirdPlace,
			Plate:      k.Plate,
			Legs:       k.Legs,
			LotSeed:    lotSeed,
		})
	})
}

// SureRuns is how often everybody races.
func (k knockout) SureRuns(_ day.Stage, n int) (int, error) {
	return leastRuns(bracket.Knockout(n, bracket.KnockoutOptions{Seeds: n, ThirdPlace: k.ThirdPlace, Plate: k.Plate, Legs: k.Legs}))
}

// Ahead is what lies ahead in the stage; of legs the decider is only possible.
func (k knockout) Ahead(s *day.State, d day.Division, stage int, cars []int) []RoundAhead {
	return treeAhead(s, d, stage, func() (*bracket.Draw, error) {
		return bracket.Knockout(len(cars), bracket.KnockoutOptions{
			Seeds: len(cars), ThirdPlace: k.ThirdPlace, Plate: k.Plate, Legs: k.Legs,
		})
	})
}

// Tied finds what has to be raced again before the round can be closed.
func (knockout) Tied(s *day.State, heats []day.HeatID) []TiedLane { return tiedPairs(s, heats) }

// closePairs are heats of two, each of which is a line; with two legs the third is
// their decider.
func (k knockout) closePairs(s *day.State, _ day.Division, _, _ int, heats []day.HeatID) []closePair {
	if k.Legs > 1 {
		return nil
	}
	return closeHeats(s, heats)
}

// tiedPairs finds a heat of two that has no winner.
func tiedPairs(s *day.State, heats []day.HeatID) []TiedLane {
	for _, id := range heats {
		if day.OneOf(s.Heats[id].Leg, 1, 2) || s.Heats[id].Leg == day.ThirdLeg && decidedBefore(s, s.Heats[id]) {
			continue // a level leg is the decider's matter
		}
		if _, tied := FinishOf(s, s.Heats[id]); tied && s.Heats[id].Posted() {
			return []TiedLane{{Heat: id}}
		}
	}
	return nil
}

// Rank orders by how far an entry came; who went out in the same round shares a
// rank (common practice), unless the third place was raced. Entries that were
// not beaten yet share the first rank, in seed order.
func (k knockout) Rank(s *day.State, d day.Division, stage int) []Standing {
	drawn := s.Programmes[d.ID].Stages[stage-1]
	exits := k.exits(s, drawn)
	plate := k.plateRanks(s, d, stage)
	lines := stageLines(s, d, stage)
	out := make([]Standing, 0, len(drawn.Seeds))
	for _, id := range drawn.Seeds {
		line := lines.of(id)
		line.Exit = exits[id].name()
		if !line.Disqualified() {
			line.PlateRank = plate[id]
		}
		out = append(out, line)
	}
	compare := func(a, b Standing) int {
		return cmp.Or(CompareBool(a.Disqualified(), b.Disqualified()), cmp.Compare(exits[a.Entry], exits[b.Entry]))
	}
	slices.SortStableFunc(out, compare)
	rankLines(out, compare)
	return out
}

// exit says how an entry left a knockout; a smaller one is better.
type exit int

const (
	notBeaten  exit = 0
	lostFinal  exit = 4
	wonThird   exit = 5
	lostThird  exit = 6
	lostSemi   exit = 8
	exitRounds exit = 4 // from one round to the one before
)

// name is the exit as a word for the catalogue: "" before the end, "round-of-N"
// for early rounds, N being the entrants of the round.
func (e exit) name() string {
	switch e {
	case notBeaten:
		return ""
	case lostFinal:
		return "final"
	case wonThird:
		return "third"
	case lostThird:
		return "fourth"
	case lostSemi:
		return "semi-final"
	}
	return fmt.Sprintf("round-of-%d", 1<<(e/exitRounds))
}

// exits says who went out where. It goes by the heats as they were drawn: who
// races on in a later one is in, and who would have won a place in it by a later
// correction is out with the round that it raced last, unless it is drawn again.
func (knockout) exits(s *day.State, drawn day.StageState) map[day.EntryID]exit {
	exits := map[day.EntryID]exit{}
	waiting := map[day.EntryID]exit{} // winners, until the next round of the part has them
	for i, r := range drawn.Rounds {
		of := partOf(drawn.Tree, i+1)
		if of.Part == bracket.PlatePart {
			continue // it has ranks of its own
		}
		there := slices.Clone(r.Byes)
		for _, id := range r.Heats {
			for _, l := range s.Heats[id].Lanes {
				there = append(there, l.Entry)
				if !s.Heats[id].Third {
					delete(exits, l.Entry)
				}
			}
		}
		for entry, lost := range waiting {
			if !slices.Contains(there, entry) {
				exits[entry] = lost
			}
		}
		clear(waiting)
		lost := exit(of.Left) * exitRounds
		for _, id := range r.Heats {
			h := s.Heats[id]
			order, decided := outcomeOf(s, h)
			if !decided {
				continue
			}
			for place, line := range order {
				won := place == 0 && !line.Out
				switch {
				case h.Third && won:
					exits[line.Entry] = wonThird
				case h.Third:
					exits[line.Entry] = lostThird
				case won:
					waiting[line.Entry] = lost
				default:
					exits[line.Entry] = lost
				}
			}
		}
	}
	return exits
}

// plateRanks are the places in the plate of those who are through with it.
func (knockout) plateRanks(s *day.State, d day.Division, stage int) map[day.EntryID]int {
	drawn := s.Programmes[d.ID].Stages[stage-1]
	ranks := map[day.EntryID]int{}
	for _, p := range drawn.Tree.PlatePlacings(treeResults(s, d, stage, drawn.Seeds)) {
		if p.Done {
			ranks[seedAt(drawn.Seeds, p.Entry)] = p.Rank
		}
	}
	return ranks
}
