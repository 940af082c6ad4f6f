package bracket

// SwissOutcome is what came of one pairing of a Swiss round.
type SwissOutcome struct {
	// First ran on the left bench. Second is negative for a bye.
	First, Second             int
	FirstPoints, SecondPoints int64
	// Played is false for a forfeit: the two may then be paired again, no side counts, and whoever won it
	// has no bye any more. A bye is never played.
	Played bool
}

// SwissHistory returns the entries 0..n-1 as they stand after the rounds so far, each a list of outcomes in any
// order. Entries that a round does not name were not there. Who is absent and who shares a car is the caller's to
// fill in. It refuses entries out of range or twice in a round.
func SwissHistory(n int, rounds [][]SwissOutcome) ([]SwissEntry, error) {
	entries := make([]SwissEntry, max(n, 0))
	for e := range entries {
		entries[e].Car = -1
	}
	for r, outcomes := range rounds {
		// Floats compare what the two had before the round, whatever order its outcomes come in.
		before := make([]int64, len(entries))
		for e := range entries {
			before[e] = entries[e].Points
			entries[e].Opponents = append(entries[e].Opponents, -1)
			entries[e].Sides = append(entries[e].Sides, NoSide)
			entries[e].Floats = append(entries[e].Floats, NoFloat)
		}
		seen := make([]bool, len(entries))
		for _, o := range outcomes {
			if o.First < 0 || o.First >= n || o.Second >= n || o.First == o.Second {
				return nil, refuse("opponent", nil, "round %d pairs the numbers %d and %d, which are not two entries", r+1, o.First, o.Second)
			}
			for _, e := range []int{o.First, o.Second} {
				if e < 0 {
					continue
				}
				if seen[e] {
					return nil, refuse("twice", []int{e}, "an entry stands in round %d twice", r+1)
				}
				seen[e] = true
			}
			o.enter(entries, before, r)
		}
	}
	return entries, nil
}

// enter writes the outcome of round r (from 0) into the histories of both.
func (o SwissOutcome) enter(entries []SwissEntry, before []int64, r int) {
	first := &entries[o.First]
	first.Points += o.FirstPoints
	if o.Second < 0 {
		first.HadBye = true
		first.Floats[r] = FloatDown
		return
	}
	second := &entries[o.Second]
	second.Points += o.SecondPoints
	if !o.Played {
		// A win without a race counts as a bye does.
		for _, x := range []struct {
			entry      *SwissEntry
			won, other int64
		}{{first, o.FirstPoints, o.SecondPoints}, {second, o.SecondPoints, o.FirstPoints}} {
			if x.won > x.other {
				x.entry.HadBye = true
				x.entry.Floats[r] = FloatDown
			}
		}
		return
	}
	first.Opponents[r], second.Opponents[r] = o.Second, o.First
	first.Sides[r], second.Sides[r] = Left, Right
	switch {
	case before[o.First] > before[o.Second]:
		first.Floats[r], second.Floats[r] = FloatDown, FloatUp
	case before[o.First] < before[o.Second]:
		first.Floats[r], second.Floats[r] = FloatUp, FloatDown
	}
}
