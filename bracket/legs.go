package bracket

// LegLanes returns the lanes of a leg (from 1) of a heat in which two run several legs: every second leg turns the
// lanes round, so that both stand on both benches. A decider is the third leg.
func LegLanes(lanes [2]int, leg int) [2]int {
	if leg%2 == 0 {
		return [2]int{lanes[1], lanes[0]}
	}
	return lanes
}

// DecideLegs looks at who won each leg (0 or 1 for the lane of the first leg, or negative for a leg that was level)
// and returns the lane of the winner, or a negative number while another leg is needed. Of two legs, two wins
// decide, and so does one with the other leg level; a win each, or both level, asks for a decider. Of a decider,
// the winner wins; a level one is run again.
func DecideLegs(winners []int) int {
	if len(winners) < 2 {
		return -1
	}
	wins := [2]int{}
	for _, w := range winners[:2] {
		if w >= 0 {
			wins[w]++
		}
	}
	switch {
	case wins[0] > wins[1]:
		return 0
	case wins[1] > wins[0]:
		return 1
	}
	for _, w := range winners[2:] {
		if w >= 0 {
			return w
		}
	}
	return -1
}
