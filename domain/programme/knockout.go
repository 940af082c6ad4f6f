package programme

import (
	"cmp"
	"fmt"
	"slices"

	"benchmeet/bracket"
	"benchmeet/domain/day"
	"benchmeet/domain/refusal"
)

// knockout is the format in which the winner of each heat of two goes on.
type knockout struct{}

func init() { enter(day.Knockout, knockout{}) }

// MethodKnockout names the draw in events; raise it when the same seed would
// give another draw.
const MethodKnockout = "knockout-nested/2"

// Check refuses settings that the form cannot have.
func (knockout) Check(d day.DivisionID, number int, st day.Stage) error {
	if st.Lanes != 2 {
		return refusal.New("knockout-lanes", "division", d, "stage", number)
	}
	if st.Rounds != 0 {
		return refusal.New("knockout-rounds", "division", d, "stage", number)
	}
	if st.Legs < 0 || st.Legs > 2 {
		return refusal.New("knockout-legs", "division", d, "stage", number)
	}
	return st.Only(d, number, "rule", "third_place", "plate", "legs", "separate_clubs", "seeding", "seeds")
}

// TakesLate says whether an entry may come after the first draw.
func (knockout) TakesLate(day.Stage, int) bool { return false }

// Rounds is how many rounds the stage has in all.
func (knockout) Rounds(s *day.State, d day.Division, stage int) int {
	return len(s.Programmes[d.ID].Stages[stage-1].Tree.Rounds)
}

// Walkover says whether the last car left in a heat need not race.
func (knockout) Walkover() bool { return true }

// Draw makes the next round from the seeds.
func (k knockout) Draw(s *day.State, d day.Division, stage, round int, seeds []day.EntryID, lotSeed uint64) (day.RoundDrawn, error) {
	return drawnTree(s, MethodKnockout, d, stage, round, seeds, func() (*bracket.Draw, error) {
		return bracket.Knockout(len(seeds), bracket.KnockoutOptions{
			Seeds:      seeded(s, d, stage, seeds),
			Cars:       carsOf(s, seeds),
			Clubs:      apartOf(s, d, stage, seeds),
			ThirdPlace: d.Stages[stage-1].ThirdPlace,
			Plate:      d.Stages[stage-1].Plate,
			Legs:       d.Stages[stage-1].Legs,
			LotSeed:    lotSeed,
		})
	})
}

// Tied finds what has to be raced again before the round can be closed.
func (knockout) Tied(s *day.State, heats []day.HeatID) []TiedLane {
	for _, id := range heats {
		if day.OneOf(s.Heats[id].Leg, 1, 2) || s.Heats[id].Leg == day.ThirdLeg && decidedBefore(s, s.Heats[id]) {
			continue // a level leg is the decider's matter
		}
		if _, tied := OrderOf(s, s.Heats[id]); tied && s.Heats[id].Posted() {
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
		line := lines[id]
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
