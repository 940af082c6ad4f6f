package bracket

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
		if !e.Absent {
			present++
		}
		if e.Points < -maxPoints || e.Points > maxPoints {
			return refuse("points", []int{i}, "an entry has more points, or fewer, than can be added up")
		}
		if most := o.Round - 1; len(e.Opponents) > most || len(e.Sides) > most || len(e.Floats) > most {
			return refuse("history", []int{i}, "an entry has more rounds behind it than the %d before round %d", most, o.Round)
		}
		for _, other := range e.Opponents {
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

// checkMeetings refuses histories that contradict each other: who has met whom, and on which side.
func checkMeetings(entries []SwissEntry, rounds int) error {
	for e, x := range entries {
		for i, other := range x.Opponents {
			if other < 0 {
				continue
			}
			back := len(x.Opponents) - i // 1 for the last round
			round := rounds - back + 1
			if theirs := ago(entries[other].Opponents, back, -1); theirs != e {
				return refuse("contradiction", []int{e, other}, "in round %d one has met the other, who by its own list of opponents has not met it: "+
					"give both the same round, and leave the rounds before its first away for a late entry", round)
			}
			if mine := ago(x.Sides, back, NoSide); mine != NoSide && mine == ago(entries[other].Sides, back, NoSide) {
				return refuse("contradiction", []int{e, other}, "in round %d both have run on one side", round)
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
