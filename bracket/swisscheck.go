package bracket

import "slices"

// maxPoints is the most points and the most that a win is worth: times MaxEntries rounds they stay far below 2^63.
const maxPoints = 1 << 48

// checkSwiss refuses what NextSwissRound cannot pair.
func checkSwiss(entries []SwissEntry, o SwissOptions) error {
	switch {
	case o.Round < 1 || o.Rounds < o.Round:
		return refuse("round", nil, "round %d of %d cannot be paired", o.Round, o.Rounds)
	case o.Rounds > MaxEntries:
		return refuse("round", nil, "a Swiss takes at most %d rounds, this one has %d", MaxEntries, o.Rounds)
	case len(entries) > MaxEntries:
		return refuse("entries", nil, "a Swiss takes at most %d entries, this one has %d", MaxEntries, len(entries))
	case o.Win <= 0:
		return refuse("win", nil, "a win must be worth more than nothing")
	case o.Win > maxPoints:
		return refuse("win", nil, "a win is worth more than can be added up")
	case o.LotSeed > MaxLotSeed:
		return refuse("lot-seed", nil, "the lot seed must be below 2^53")
	}
	present := 0
	for i, e := range entries {
		// Who is absent is not paired, and so counts against no limit, but others have met it: its
		// history is checked like any other.
		if !e.Absent {
			present++
		}
		if e.Points < -maxPoints || e.Points > maxPoints {
			return refuse("points", []int{i}, "an entry has more points, or fewer, than can be added up")
		}
		// Fewer are no mistake: a late entry has no rounds before its first.
		if most := o.Round - 1; len(e.Opponents) > most || len(e.Sides) > most || len(e.Floats) > most {
			return refuse("history", []int{i}, "an entry has more rounds behind it than the %d before round %d", most, o.Round)
		}
		for _, other := range e.Opponents {
			// Below 0 is nobody: a bye, a forfeit, or a round without a heat.
			if other >= len(entries) || other == i {
				return refuse("opponent", []int{i}, "an entry has met number %d, which is not another entry", other)
			}
		}
		for _, side := range e.Sides {
			if side != NoSide && side != Left && side != Right {
				return refuse("side", []int{i}, "an entry has had the side %d, which is none", side)
			}
		}
	}
	// Only now, as it follows the numbers that were just checked.
	if err := checkMeetings(entries, o.Round-1); err != nil {
		return err
	}
	switch {
	case present == 0:
		return refuse("entries", nil, "nobody is there to be paired")
	case present > MaxSwiss:
		return refuse("entries", nil, "a Swiss pairs at most %d entries, this one has %d", MaxSwiss, present)
	}
	return nil
}

// checkMeetings refuses histories that contradict each other: who has met whom, and on which side. The short history of
// somebody who is absent may end where it left, so that only whom it met is asked.
func checkMeetings(entries []SwissEntry, rounds int) error {
	left := func(x SwissEntry) bool { return x.Absent && len(x.Opponents) < rounds }
	for e, x := range entries {
		for i, other := range x.Opponents {
			if other < 0 {
				continue
			}
			y := entries[other]
			back := len(x.Opponents) - i // 1 for the last round
			if left(x) || left(y) {
				if !slices.Contains(y.Opponents, e) {
					return refuse(
						"contradiction", []int{e, other}, "one has met the other in its round %d, who has never met it by its own list of opponents", i+1,
					)
				}
				continue
			}
			if ago(y.Opponents, back, -1) != e {
				return refuse("contradiction", []int{e, other}, "one has met the other in round %d, who has not by its own list of opponents: "+
					"give both the same round; a late entry leaves the rounds before its first away", rounds-back+1)
			}
			if mine := ago(x.Sides, back, NoSide); mine != NoSide && mine == ago(y.Sides, back, NoSide) {
				return refuse("contradiction", []int{e, other}, "both have run on one side in round %d", rounds-back+1)
			}
		}
	}
	return nil
}

// ago returns what a history holds so many rounds back, or what stands for a round before its first.
func ago[T any](history []T, back int, before T) T {
	if back > len(history) {
		return before
	}
	return history[len(history)-back]
}
