package programme

import (
	"cmp"
	"slices"

	"benchmeet/bracket"
	"benchmeet/domain/day"
	"benchmeet/domain/refusal"
)

// manyLanes is the format of heats of many lanes: of each heat the first go on,
// and with them the next fastest of the round, down to a final. Who goes on by
// distance is compared in whole micrometres.
type manyLanes struct{}

func init() { enter(day.Heats, manyLanes{}) }

// MethodHeats names the draw in events; raise it when the same seed would give
// another draw.
const MethodHeats = "heats/1"

// maxHeats is how many heats a round may have.
const maxHeats = 64

// Check refuses settings that the form cannot have.
func (manyLanes) Check(d day.DivisionID, number int, st day.Stage) error {
	order := day.OneOf(st.HeatOrder, "", bracket.ZigzagOrder, bracket.CircleOrder)
	if st.Lanes < 2 || st.Heats < 0 || st.Heats > maxHeats || !order ||
		st.Advance < 1 || st.Advance >= st.Lanes || st.NextBest < 0 || st.NextBest > maxLanes {
		return refusal.New("stage-heats", "division", d, "stage", number, "lanes", maxLanes, "heats", maxHeats)
	}
	return st.Only(d, number, "heats", "heat_order", "advance", "next_best", "b_final", "seeding", "seeds")
}

// TakesLate says whether an entry may come after the first draw.
func (manyLanes) TakesLate(day.Stage, int) bool { return false }

// Rounds is how many rounds the stage has in all.
func (manyLanes) Rounds(s *day.State, d day.Division, stage int) int {
	return len(s.Programmes[d.ID].Stages[stage-1].Tree.Rounds)
}

// Walkover lets the only car left in a heat go on without a race: it is the first
// of its heat whatever it runs.
func (manyLanes) Walkover() bool { return true }

// Draw makes the next round from the seeds.
func (manyLanes) Draw(s *day.State, d day.Division, stage, round int, seeds []day.EntryID, lotSeed uint64) (day.RoundDrawn, error) {
	if round > 1 {
		tree, moved := partCars(s, d, stage, round, seeds)
		out := treeRound(s, MethodHeats, d, stage, round, seeds, tree)
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
		Lanes: st.Lanes, Heats: st.Heats, Order: st.HeatOrder, Advance: st.Advance, NextBest: st.NextBest,
		BFinal: st.BFinal, Seeds: seeded(s, d, stage, seeds), Cars: carsOf(s, seeds), LotSeed: lotSeed,
	}
	return drawnTree(s, MethodHeats, d, stage, round, seeds, func() (*bracket.Draw, error) { return bracket.Heats(len(seeds), o) })
}

// finishOf is a heat's result as a draw takes it. Of equal distances in a heat of
// many, the car that still races comes before one that has gone home.
func finishOf(s *day.State, h day.Heat) []LaneResult {
	order, _ := OrderOf(s, h)
	if s.Divisions[h.Division].Stages[h.Stage-1].Kind == day.Heats {
		slices.SortStableFunc(order, func(a, b LaneResult) int { return compareFinish(s, a, b) })
	}
	return order
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
func nextBest(s *day.State, d day.Division, stage, round int) ([]LaneResult, bool) {
	out := []LaneResult{}
	for _, id := range s.Programmes[d.ID].Stages[stage-1].Rounds[round-1].Heats {
		h := s.Heats[id]
		if !h.Posted() {
			return nil, false
		}
		for place, line := range finishOf(s, h) {
			if place >= d.Stages[stage-1].Advance && line.Valued && !line.Out {
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
	advance := d.Stages[first.Stage-1].Advance
	for _, id := range heats {
		if among := acrossLine(s, finishOf(s, s.Heats[id]), advance); len(among) > 0 {
			return tiedLanes(s, heats, among)
		}
	}
	best, _ := nextBest(s, d, first.Stage, first.Round)
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

func tiedLanes(s *day.State, heats []day.HeatID, among []day.EntryID) []TiedLane {
	var out []TiedLane
	for _, id := range heats {
		for _, l := range s.Heats[id].Lanes {
			if slices.Contains(among, l.Entry) {
				out = append(out, TiedLane{id, l.Entry})
			}
		}
	}
	return out
}
