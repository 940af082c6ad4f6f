package programme

import (
	"cmp"

	"benchmeet/domain/day"
	"benchmeet/domain/standings"
)

// closeConfidence is where results count as too close to call, in thousandths.
const closeConfidence = 950

// compareDeciders is above zero where the first lane had the better decider, and
// zero while one is missing or where both are equal. A car that did not make its
// decider comes behind one that did.
func compareDeciders(s *day.State, a, b day.Lane) int {
	if !a.Decided || !b.Decided || a.Deciding || b.Deciding {
		return 0
	}
	worth := func(l day.Lane) int64 {
		if l.Decider == "" {
			return -1
		}
		return s.Worth(s.Runs[l.Decider])
	}
	return cmp.Compare(worth(a), worth(b))
}

// tooClose says whether two distances differ by no more than is known of them
// allows, as standings marks it: at 95 %, in whole numbers. Equal ones are left to
// the rule for ties.
func tooClose(a, b LaneResult) bool {
	if !a.Valued || !b.Valued || a.DistanceUM == b.DistanceUM {
		return false
	}
	return (&standings.Closeness{Confidence: closeConfidence}).TooClose(a.asRun(), b.asRun())
}

// heatDecider puts the two cars of a heat that are too close to call into the order
// of their deciders.
func heatDecider(s *day.State, h day.Heat, order []LaneResult) {
	if s.Rules.Close != day.CloseDecider || len(order) != 2 || !tooClose(order[0], order[1]) {
		return
	}
	i, _ := h.Lane(order[0].Entry)
	j, _ := h.Lane(order[1].Entry)
	if compareDeciders(s, h.Lanes[i], h.Lanes[j]) < 0 {
		order[0], order[1] = order[1], order[0]
	}
}
