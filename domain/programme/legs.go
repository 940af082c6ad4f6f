package programme

import (
	"benchmeet/bracket"
	"benchmeet/domain/day"
)

// FirstLeg is the first leg of the heat that a leg belongs to.
func FirstLeg(s *day.State, h day.Heat) day.Heat {
	return s.Heats[h.Division.Heat(h.Stage, h.Round, h.Number)]
}

// legs are the legs of a heat that are drawn, the first one first.
func legs(s *day.State, first day.Heat) []day.Heat {
	var out []day.Heat
	for n := 1; n <= day.ThirdLeg; n++ {
		if h, there := s.Heats[first.ID.Leg(n)]; there && h.Leg == n {
			out = append(out, h)
		}
	}
	return out
}

// LegBefore finds a leg that has to be posted before one may be called.
func LegBefore(s *day.State, h day.Heat) (day.HeatID, bool) {
	if h.Leg < 2 {
		return "", false
	}
	for _, leg := range legs(s, FirstLeg(s, h)) {
		if leg.Leg < h.Leg && !leg.Posted() {
			return leg.ID, true
		}
	}
	return "", false
}

// legWinner is the lane of the first leg whose entry won a leg, or negative where
// the leg was level or nobody raced it.
func legWinner(s *day.State, first, leg day.Heat) int {
	order, tied := FinishOf(s, leg)
	if tied || len(order) == 0 || order[0].Out {
		return -1
	}
	lane, _ := first.Lane(order[0].Entry)
	return lane
}

// LegWinners are the winners of the legs before the decider, and of the decider
// where it is posted; known once the first two are.
func LegWinners(s *day.State, first day.Heat) (winners []int, known bool) {
	legs := legs(s, first)
	if len(legs) < 2 || !legs[0].Posted() || !legs[1].Posted() {
		return nil, false
	}
	for _, leg := range legs {
		if leg.Posted() {
			winners = append(winners, legWinner(s, first, leg))
		}
	}
	return winners, true
}

// decidedBefore says whether the first two legs decide, whatever the decider gave.
func decidedBefore(s *day.State, leg day.Heat) bool {
	winners, known := LegWinners(s, FirstLeg(s, leg))
	return known && bracket.DecideLegs(winners[:2]) >= 0
}

// Match is the outcome of a heat over its legs. Who never raced a leg is out, and
// where that is both, nobody goes on.
func Match(s *day.State, first day.Heat) (order []LaneResult, decided bool) {
	winners, known := LegWinners(s, first)
	if !known {
		return nil, false
	}
	out := make([]LaneResult, len(first.Lanes))
	allOut := true
	legs := legs(s, first)
	for i, l := range first.Lanes {
		out[i] = LaneResult{Entry: l.Entry, Out: true}
		for _, leg := range legs {
			if at, in := leg.Lane(l.Entry); in && leg.Posted() && !ResultOf(s, leg.Lanes[at]).Out {
				out[i].Out, allOut = false, false
			}
		}
	}
	switch won := bracket.DecideLegs(winners); {
	case won == 1:
		out[0], out[1] = out[1], out[0]
		return out, true
	case won == 0 || allOut:
		return out, true
	}
	// Level, and nobody was there for the decider.
	if last := legs[len(legs)-1]; last.Leg == day.ThirdLeg && last.Posted() && winners[len(winners)-1] < 0 {
		if _, tied := FinishOf(s, last); !tied {
			for i := range out {
				out[i].Out = true
			}
			return out, true
		}
	}
	return nil, false
}

// PlannedBench is the bench on which a lane is to race: the one that the draw has
// planned, or for a later leg the one of the same lane in the first, since the
// lanes are turned round. It is empty where any bench will do.
func PlannedBench(s *day.State, h day.Heat, lane int) day.BenchID {
	if h.Leg < 2 {
		return h.Lanes[lane].Planned
	}
	first := FirstLeg(s, h)
	if lane >= len(first.Lanes) {
		return ""
	}
	if r, ran := s.Runs[first.Lanes[lane].Counts]; ran {
		return r.Bench
	}
	return first.Lanes[lane].Bench
}
