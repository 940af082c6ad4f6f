package programme

import (
	"cmp"
	"slices"

	"benchmeet/bracket"
	"benchmeet/domain/day"
	"benchmeet/domain/refusal"
)

// manyLanes is the form of heats of many lanes: of each heat the first go on,
// and with them the next fastest of the round, down to a final. Who goes on by
// distance is compared in whole micrometres.
type manyLanes struct {
	drawnWhole // the only car left in a heat is the first of it whatever it runs
	sown
	// Heats is how many heats the first round has; 0 is as few as the lanes allow.
	Heats int `json:"heats,omitempty"`
	// HeatOrder is how entries are spread over them.
	HeatOrder bracket.HeatOrder `json:"heat_order,omitempty"`
	// Advance is how many of each heat go on by their place, NextBest how many more
	// of the round by their distance.
	Advance  int `json:"advance,omitempty"`
	NextBest int `json:"next_best,omitempty"`
	// BFinal adds a heat of the best of those who did not reach the final.
	BFinal bool `json:"b_final,omitempty"`
}

func init() { enter[manyLanes]() }

// Kind names the form.
func (manyLanes) Kind() day.StageKind { return "heats" }

// Less is the stage without the heat of the best who missed the final.
func (f manyLanes) Less() []Less {
	if !f.BFinal {
		return nil
	}
	f.BFinal = false
	return []Less{{"no-b-final", f}}
}

// methodHeats names the draw in events; raise it when the same seed would give
// another draw.
const methodHeats = "heats/1"

// maxHeats is how many heats a round may have.
const maxHeats = 64

// Check refuses settings that the form cannot have.
func (m manyLanes) Check(d day.DivisionID, number int, st day.Stage) error {
	order := day.OneOf(m.HeatOrder, "", bracket.ZigzagOrder, bracket.CircleOrder)
	if st.Lanes < 2 || m.Heats < 0 || m.Heats > maxHeats || !order ||
		m.Advance < 1 || m.Advance >= st.Lanes || m.NextBest < 0 || m.NextBest > maxLanes {
		return refusal.New("stage-heats", "division", d, "stage", number, "lanes", maxLanes, "heats", maxHeats)
	}
	return nil
}

// SureRuns is how often everybody races.
func (m manyLanes) SureRuns(st day.Stage, n int) (int, error) {
	return leastRuns(bracket.Heats(n, bracket.HeatsOptions{
		Lanes: st.Lanes, Heats: m.Heats, Order: m.HeatOrder, Advance: m.Advance, NextBest: m.NextBest, Seeds: n,
	}))
}

// Ahead is what lies ahead in the stage. Siblings who must not meet may need more heats, or
// stand alone in some that are then not raced: it is whatever is more.
func (m manyLanes) Ahead(s *day.State, d day.Division, stage int, cars []int) []RoundAhead {
	ahead := func(cars []int, n int) []RoundAhead {
		return treeAhead(s, d, stage, func() (*bracket.Draw, error) {
			return bracket.Heats(n, bracket.HeatsOptions{
				Lanes: d.Stages[stage-1].Lanes, Heats: m.Heats, Order: m.HeatOrder, Advance: m.Advance, NextBest: m.NextBest,
				BFinal: m.BFinal, Seeds: n, Cars: cars,
			})
		})
	}
	apart, together := ahead(cars, len(cars)), ahead(nil, len(cars))
	if heatsAhead(together) > heatsAhead(apart) {
		return together
	}
	return apart
}

func heatsAhead(rounds []RoundAhead) (n int) {
	for _, r := range rounds {
		n += len(r.Heats)
	}
	return n
}

// Draw makes the next round from the seeds.
func (m manyLanes) Draw(s *day.State, d day.Division, stage, round int, seeds []day.EntryID, lotSeed uint64) (day.RoundDrawn, error) {
	if round > 1 {
		tree, moved := partCars(s, d, stage, round, seeds)
		out := treeRound(s, methodHeats, d, stage, round, seeds, tree)
		if moved {
			out.Tree = tree
		}
		return out, nil
	}
	st := d.Stages[stage-1]
	if benches := len(BenchesInService(s)); st.Lanes > benches {
		return day.RoundDrawn{}, refusal.New("heats-benches", "division", d.ID, "stage", stage, "lanes", st.Lanes, "benches", benches)
	}
	o := bracket.HeatsOptions{
		Lanes: st.Lanes, Heats: m.Heats, Order: m.HeatOrder, Advance: m.Advance, NextBest: m.NextBest,
		BFinal: m.BFinal, Seeds: seeded(s, d, stage, seeds), Cars: carsOf(s, seeds), LotSeed: lotSeed,
	}
	return drawnTree(s, methodHeats, d, stage, round, seeds, func() (*bracket.Draw, error) { return bracket.Heats(len(seeds), o) })
}

// finish puts, of equal distances, the car that still races before one that has gone
// home.
func (manyLanes) finish(s *day.State, order []LaneResult) {
	slices.SortStableFunc(order, func(a, b LaneResult) int { return compareFinish(s, a, b) })
}

func compareFinish(s *day.State, a, b LaneResult) int {
	return cmp.Or(
		CompareBool(a.Out, b.Out),
		-CompareBool(a.Valued, b.Valued),
		-cmp.Compare(a.DistanceUM, b.DistanceUM),
		-CompareBool(s.Entries[a.Entry].Racing(), s.Entries[b.Entry].Racing()),
	)
}

// nextBest are those of a round who do not go on by their place, best first:
// known when every heat of the round is posted. Without a distance nobody is
// among them.
func (m manyLanes) nextBest(s *day.State, d day.Division, stage, round int) ([]LaneResult, bool) {
	out := []LaneResult{}
	for _, id := range s.Programmes[d.ID].Stages[stage-1].Rounds[round-1].Heats {
		h := s.Heats[id]
		if !h.Posted() {
			return nil, false
		}
		for place, line := range drawnFinish(s, h) {
			if place >= m.Advance && line.Valued && !line.Out {
				out = append(out, line)
			}
		}
	}
	slices.SortStableFunc(out, func(a, b LaneResult) int { return compareFinish(s, a, b) })
	return out, true
}

// Tied asks for a re-run where equal distances leave open who goes on: in a heat
// at the last place that goes on, among the next best at the last that does, and
// at the last that comes into the B-final. The rest of the order only decides
// lanes. In the final, equals share their place, unless the rules want a decider
// at the places for a prize or the next stage.
func (m manyLanes) Tied(s *day.State, heats []day.HeatID) []TiedLane {
	if len(heats) == 0 || slices.ContainsFunc(heats, func(id day.HeatID) bool { return !s.Heats[id].Posted() }) {
		return nil
	}
	first := s.Heats[heats[0]]
	d := s.Divisions[first.Division]
	tree := s.Programmes[d.ID].Stages[first.Stage-1].Tree
	if first.Round == len(tree.Rounds) {
		return tiedLast(s, heats, m.Rank) // who is level with a closed round stays so
	}
	for _, id := range heats {
		if among := acrossLine(s, drawnFinish(s, s.Heats[id]), m.Advance); len(among) > 0 {
			return tiedLanes(s, heats, among)
		}
	}
	best, _ := m.nextBest(s, d, first.Stage, first.Round)
	for _, line := range nextBestLines(tree, first.Round) {
		if among := acrossLine(s, best, line); len(among) > 0 {
			return tiedLanes(s, heats, among)
		}
	}
	return nil
}

// nextBestLines are how many of the next best of a round go on to the next, and
// how many to that and the B-final.
func nextBestLines(tree *bracket.Draw, round int) []int {
	goOn, bFinal := 0, 0
	for _, h := range tree.Rounds[round].Heats {
		for _, slot := range h.Lanes {
			switch {
			case slot.Kind != bracket.NextBestSlot:
			case h.Purpose == bracket.BFinal:
				bFinal++
			default:
				goOn++
			}
		}
	}
	return []int{goOn, goOn + bFinal}
}

// acrossLine are the entries that still race and have the same distance on both
// sides of a line after so many.
func acrossLine(s *day.State, order []LaneResult, line int) []day.EntryID {
	if line < 1 || line >= len(order) {
		return nil
	}
	last, next := order[line-1], order[line]
	if last.Out || next.Out || compareFinish(s, last, next) != 0 || !s.Entries[next.Entry].Racing() {
		return nil
	}
	var out []day.EntryID
	for _, r := range order {
		if compareFinish(s, r, last) == 0 {
			out = append(out, r.Entry)
		}
	}
	return out
}
