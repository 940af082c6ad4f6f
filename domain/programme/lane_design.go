package programme

import (
	"slices"

	"benchmeet/bracket"
	"benchmeet/domain/day"
)

// methodLaneDesign names the draw of a stage whose lanes are shared out by a
// design; raise it when the same seed would give another draw.
const methodLaneDesign = "lane-design/2"

// designedRound draws a round of a stage with a lane design: with the first one
// all that follow, and the benches that they count on.
func (r dealt) designedRound(s *day.State, d day.Division, stage, round int, seeds []day.EntryID, lotSeed uint64) (day.RoundDrawn, error) {
	if round > 1 {
		drawn := s.Programmes[d.ID].Stages[stage-1]
		out := treeRound(s, methodLaneDesign, d, stage, round, seeds, drawn.Tree)
		planBenches(&out, drawn.Tree, round, drawn.Benches)
		return out, nil
	}
	var benches []day.BenchID
	for _, b := range BenchesInService(s) {
		benches = append(benches, b.ID)
	}
	tree, kind, _, err := bracket.ShareOut(len(seeds), r.RoundCount, bracket.TimedOptions{
		Lanes: min(d.Stages[stage-1].Lanes, len(benches)), Cars: carsOf(s, seeds), LotSeed: lotSeed,
	})
	if err != nil {
		return day.RoundDrawn{}, err
	}
	out := treeRound(s, methodLaneDesign, d, stage, round, seeds, tree)
	out.Tree, out.Design, out.Benches = tree, kind, benches
	planBenches(&out, tree, round, benches)
	return out, nil
}

// planBenches writes the planned benches into the heats of a round.
func planBenches(e *day.RoundDrawn, tree *bracket.Draw, round int, benches []day.BenchID) {
	planned := benchPlan(tree, len(benches))[round-1]
	for i := range e.Heats {
		for _, at := range planned[i][:len(e.Heats[i].Entries)] {
			e.Heats[i].Benches = append(e.Heats[i].Benches, benches[at])
		}
	}
}

// benchPlan lays lanes on benches, by round, heat and lane, as positions in a list
// of so many benches. The benches are cut into blocks of as many as the largest
// heat has lanes, in plate order, so that one heat can run on each block at the
// same time, but into no more than a round has heats; lane i of a heat is bench i
// of its block. Heats of a round take the
// blocks in turn. Which heat has which of the blocks is open: each takes, of those
// that are left in its turn, the one on whose benches its cars have run least.
// So lanes are as even as the design makes them, and benches as even as that
// allows; where the benches make one block only, a lane is a bench.
func benchPlan(tree *bracket.Draw, benches int) [][][]int {
	lanes := largestHeat(tree)
	blocks := benchBlocks(tree, benches)
	type use struct{ entry, bench int }
	used := map[use]int{}
	var out [][][]int
	for _, r := range tree.Rounds {
		var round [][]int
		var left []int
		for _, h := range r.Heats {
			if len(left) == 0 {
				left = upTo(blocks)
			}
			best := slices.MinFunc(left, func(a, b int) int {
				sum := 0
				for i, slot := range h.Lanes {
					x, y := used[use{slot.Entry, a*lanes + i}], used[use{slot.Entry, b*lanes + i}]
					sum += x*x - y*y
				}
				return sum
			})
			left = slices.DeleteFunc(left, func(b int) bool { return b == best })
			heat := make([]int, len(h.Lanes))
			for i, slot := range h.Lanes {
				heat[i] = best*lanes + i
				used[use{slot.Entry, heat[i]}]++
			}
			round = append(round, heat)
		}
		out = append(out, round)
	}
	return out
}

// benchBlocks is how many blocks of benches the heats of a draw can use.
func benchBlocks(tree *bracket.Draw, benches int) int {
	heats := 1
	for _, r := range tree.Rounds {
		heats = max(heats, len(r.Heats))
	}
	return max(1, min(heats, benches/max(1, largestHeat(tree))))
}

func upTo(n int) []int {
	out := make([]int, n)
	for i := range out {
		out[i] = i
	}
	return out
}

func largestHeat(tree *bracket.Draw) int {
	most := 0
	for _, r := range tree.Rounds {
		for _, h := range r.Heats {
			most = max(most, len(h.Lanes))
		}
	}
	return most
}

// LaneDesign says how a stage's lanes were shared out, and how even that is.
type LaneDesign struct {
	Stage int
	Kind  bracket.DesignKind
	// Entries are those that were drawn, Lanes the lanes of the largest heat.
	Entries, Lanes int
	bracket.Balance
	// BenchLeast and BenchMost are the planned runs of an entry on a bench.
	BenchLeast, BenchMost int
	// EfficiencyNum over EfficiencyDen is the design's efficiency factor; 0 over 0
	// where the rounds follow no design.
	EfficiencyNum, EfficiencyDen int
	// Fits is the smallest number of runs of each entry that a known design has for
	// so many entries and lanes, as are its multiples; 0 where none is known.
	Fits int
}

// LaneDesigns are the reports on the stages of a division whose lanes were shared
// out by a design.
func LaneDesigns(s *day.State, division day.DivisionID) []LaneDesign {
	var out []LaneDesign
	for i, st := range s.Programmes[division].Stages {
		if st.Design != "" {
			out = append(out, laneDesignOf(s, i+1, st))
		}
	}
	return out
}

func laneDesignOf(s *day.State, stage int, st day.StageState) LaneDesign {
	var heats [][]int
	for _, r := range st.Tree.Rounds {
		for _, h := range r.Heats {
			heat := make([]int, len(h.Lanes))
			for i, slot := range h.Lanes {
				heat[i] = slot.Entry
			}
			heats = append(heats, heat)
		}
	}
	out := LaneDesign{Stage: stage, Kind: st.Design, Entries: len(st.Seeds), Lanes: largestHeat(st.Tree)}
	out.Balance = bracket.MeasureBalance(out.Entries, heats)
	out.BenchLeast, out.BenchMost = benchBalance(st, out.Lanes)
	cars := carsOf(s, st.Seeds)
	slices.Sort(cars)
	shared := len(slices.Compact(cars)) < len(st.Seeds) // then no design serves
	if design, known := bracket.FindDesign(out.Entries, out.Lanes); known && !shared {
		out.Fits = design.Runs
		if st.Design != bracket.NearBalance {
			out.EfficiencyNum, out.EfficiencyDen = design.Efficiency()
		}
	}
	return out
}

// benchBalance counts the planned runs of each entry on each bench of the blocks.
func benchBalance(st day.StageState, lanes int) (least, most int) {
	used := make([][]int, len(st.Seeds))
	benches := benchBlocks(st.Tree, len(st.Benches)) * lanes
	for i := range used {
		used[i] = make([]int, benches)
	}
	for r, round := range benchPlan(st.Tree, len(st.Benches)) {
		for h, heat := range round {
			for i, bench := range heat {
				used[st.Tree.Rounds[r].Heats[h].Lanes[i].Entry][bench]++
			}
		}
	}
	least = 1 << 30
	for _, of := range used {
		least, most = min(least, slices.Min(of)), max(most, slices.Max(of))
	}
	return least, most
}
