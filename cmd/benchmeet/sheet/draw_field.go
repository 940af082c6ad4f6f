package sheet

import "slices"

// seedOrder puts the entries that name a seed first, in its order, and the others behind them as listed. It
// refuses ids that are missing or double and seeds that are not 1, 2, 3, ...
func seedOrder(entries []drawEntry) (ordered []drawEntry, seeded int, err error) {
	seen := map[string]bool{}
	bySeed := map[int]string{}
	for i, e := range entries {
		if e.ID == "" {
			return nil, 0, Refuse("entries: number %d has no id", i+1)
		}
		if seen[e.ID] {
			return nil, 0, Refuse("entry %s is listed twice; each id stands for one entry", e.ID)
		}
		seen[e.ID] = true
		if e.Seed == nil {
			continue
		}
		if *e.Seed < 1 {
			return nil, 0, Refuse("entry %s has the seed %d; seeds count from 1", e.ID, *e.Seed)
		}
		if other, taken := bySeed[*e.Seed]; taken {
			return nil, 0, Refuse("entries %s and %s both have the seed %d", other, e.ID, *e.Seed)
		}
		bySeed[*e.Seed] = e.ID
	}
	// No seed is there twice and none is below 1, so a hole shows as one of the first that is missing.
	for seed := 1; seed <= len(bySeed); seed++ {
		if _, taken := bySeed[seed]; !taken {
			return nil, 0, Refuse("nobody has the seed %d, but %d entries name a seed; seeds are 1, 2, 3, ... without holes", seed, len(bySeed))
		}
	}
	// Stable, so that those without a seed stay as they are listed.
	ordered = slices.Clone(entries)
	slices.SortStableFunc(ordered, func(a, b drawEntry) int {
		switch {
		case a.Seed != nil && b.Seed != nil:
			return *a.Seed - *b.Seed
		case a.Seed != nil:
			return -1
		case b.Seed != nil:
			return 1
		}
		return 0
	})
	return ordered, len(bySeed), nil
}

// drawClubs numbers the clubs, or returns nil when clubmates need not be kept apart.
func drawClubs(entries []drawEntry, separate bool) []int {
	if !separate {
		return nil
	}
	return numberNames(entries, func(e drawEntry) string { return e.Club })
}

// drawCars numbers the cars, or returns nil when nobody names one.
func drawCars(entries []drawEntry) []int {
	if !slices.ContainsFunc(entries, func(e drawEntry) bool { return e.Car != "" }) {
		return nil
	}
	return numberNames(entries, func(e drawEntry) string { return e.Car })
}

func numberNames(entries []drawEntry, name func(drawEntry) string) []int {
	known := map[string]int{}
	numbers := make([]int, len(entries))
	for i, e := range entries {
		n := name(e)
		if n == "" {
			numbers[i] = -1
			continue
		}
		if _, seen := known[n]; !seen {
			known[n] = len(known)
		}
		numbers[i] = known[n]
	}
	return numbers
}
