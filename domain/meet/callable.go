package meet

import (
	"cmp"
	"slices"

	"benchmeet/domain/day"
	"benchmeet/domain/programme"
)

// lanes are those that the call is for, in lane order: all that can stand at benches
// at the same time. Where a heat is raced short, and in a stage that was drawn as a
// whole, so that no draw can make its heats smaller, they are no more than benches are
// in service. Left over are first those whose planned bench is out, then the last ones:
// lanes are shared out by lot, so that is nobody's place for long.
func (c CallHeat) lanes(s *day.State, h day.Heat) []int {
	out := programme.LanesToRace(s, h)
	most := max(1, len(programme.BenchesInService(s)))
	if _, whole := programme.TreeOf(s, h); !c.Short && !whole || len(out) <= most {
		return out
	}
	slices.SortStableFunc(out, func(a, b int) int {
		return cmp.Compare(benchGone(s, h, a), benchGone(s, h, b))
	})
	out = out[:most]
	slices.Sort(out)
	return out
}

// benchGone is 1 where the bench that the draw planned for a lane is out of service.
func benchGone(s *day.State, h day.Heat, lane int) int {
	if s.Benches[programme.PlannedBench(s, h, lane)].OutOfService {
		return 1
	}
	return 0
}
