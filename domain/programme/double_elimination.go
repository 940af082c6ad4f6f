package programme

import (
	"cmp"
	"fmt"
	"slices"

	"benchmeet/bracket"
	"benchmeet/domain/day"
)

// doubleElimination is the form in which only a second defeat puts an entry
// out: the losers go on among themselves, and the best of them meets the one who
// has not lost. A tied heat races again, as in a knockout.
type doubleElimination struct {
	drawnWhole
	sown
	apart
}

// Kind names the form.
func (doubleElimination) Kind() day.StageKind { return "double-elimination" }

// methodDoubleElimination names the draw in events; raise it when the same seed
// would give another draw.
const methodDoubleElimination = "double-elimination-nested/3"

// Check refuses settings that the form cannot have.
func (doubleElimination) Check(d day.DivisionID, number int, st day.Stage) error {
	return checkPairs(st, d, number)
}

func init() { enter[doubleElimination]() }

// Rounds leaves the second final out unless both finalists have lost once and
// can race it.
func (doubleElimination) Rounds(s *day.State, d day.Division, stage int) int {
	drawn := s.Programmes[d.ID].Stages[stage-1]
	all := len(drawn.Tree.Rounds)
	if len(drawn.Rounds) == all {
		return all
	}
	views := drawn.Tree.Follow(treeResults(s, d, stage, drawn.Seeds))
	if last := views[len(views)-1]; last.State == bracket.Ready {
		return all
	}
	return all - 1
}

// Tied finds what has to be raced again before the round can be closed.
func (doubleElimination) Tied(s *day.State, heats []day.HeatID) []TiedLane {
	return tiedPairs(s, heats)
}

// closePairs are heats of two, each of which is a line.
func (doubleElimination) closePairs(s *day.State, _ day.Division, _, _ int, heats []day.HeatID) []closePair {
	return closeHeats(s, heats)
}

// SureRuns is how often everybody races.
func (doubleElimination) SureRuns(_ day.Stage, n int) (int, error) {
	return leastRuns(bracket.DoubleElimination(n, bracket.KnockoutOptions{Seeds: n}))
}

// Ahead is what lies ahead in the stage; the second final is only possible.
func (doubleElimination) Ahead(s *day.State, d day.Division, stage int, cars []int) []RoundAhead {
	return treeAhead(s, d, stage, func() (*bracket.Draw, error) {
		return bracket.DoubleElimination(len(cars), bracket.KnockoutOptions{Seeds: len(cars)})
	})
}

// Draw makes the next round from the seeds.
func (doubleElimination) Draw(s *day.State, d day.Division, stage, round int, seeds []day.EntryID, lotSeed uint64) (day.RoundDrawn, error) {
	return drawnTree(s, methodDoubleElimination, d, stage, round, seeds, func() (*bracket.Draw, error) {
		return bracket.DoubleElimination(len(seeds), bracket.KnockoutOptions{
			Seeds: seeded(s, d, stage, seeds), Cars: carsOf(s, seeds), Clubs: apartOf(s, d, stage, seeds), LotSeed: lotSeed,
		})
	})
}

// Rank orders by how far an entry came; who went out in the same round shares a
// rank, and so do those who are still in.
func (doubleElimination) Rank(s *day.State, d day.Division, stage int) []Standing {
	drawn := s.Programmes[d.ID].Stages[stage-1]
	results := treeResults(s, d, stage, drawn.Seeds)
	exits := lostIn(drawn.Tree, results)
	lines := stageLines(s, d, stage)
	rank := map[day.EntryID]int{}
	out := make([]Standing, 0, len(drawn.Seeds))
	for _, p := range drawn.Tree.Placings(results) {
		id := drawn.Seeds[p.Entry]
		rank[id] = p.Rank
		line := lines.of(id)
		if p.Done {
			line.Exit = exits[p.Entry]
		}
		out = append(out, line)
	}
	compare := func(a, b Standing) int {
		return cmp.Or(CompareBool(a.Disqualified(), b.Disqualified()), cmp.Compare(rank[a.Entry], rank[b.Entry]))
	}
	slices.SortStableFunc(out, compare)
	rankLines(out, compare)
	return out
}

// lostIn says of each entry that lost in the losers' rounds or in a final where
// that was, as a word for the catalogue: "final", or "losers-N" for the N-th of
// the losers' rounds.
func lostIn(tree *bracket.Draw, results bracket.Results) map[int]string {
	names := map[int]string{} // by round
	losers := 0
	for _, r := range tree.Rounds {
		switch r.Part {
		case bracket.LosersPart:
			losers++
			names[r.Number] = fmt.Sprintf("losers-%d", losers)
		case "":
			names[r.Number] = "final"
		}
	}
	exits := map[int]string{}
	for _, v := range tree.Follow(results) {
		if v.State != bracket.Decided {
			continue
		}
		for _, e := range v.Lanes {
			if e < 0 {
				continue
			}
			if delete(exits, e); len(v.Order) == 0 || v.Order[0] != e {
				exits[e] = names[v.Round]
			}
		}
	}
	return exits
}
