package bracket

// RunsAtLeast returns for each entry of the plan (by number, 0 for numbers that are not in it) how many heats it is
// sure to run, whatever the results: the least over all ways through the plan. Reserved heats and places among the
// next best are not sure, and a walkover is counted as a run. The slice is as long as the highest number needs.
func (d *Draw) RunsAtLeast() []int {
	type place struct {
		heat string
		at   int
	}
	goesTo := map[place]string{}
	lanes := map[string]int{}
	for _, r := range d.Rounds {
		for _, h := range r.Heats {
			lanes[h.ID] = len(h.Lanes)
			for _, s := range h.Lanes {
				if h.IfNeeded {
					continue
				}
				switch s.Kind {
				case WinnerSlot:
					goesTo[place{s.Heat, 1}] = h.ID
				case LoserSlot:
					goesTo[place{s.Heat, lanes[s.Heat]}] = h.ID
				case PlaceSlot:
					goesTo[place{s.Heat, s.Place}] = h.ID
				}
			}
		}
	}
	// From the last heat back: one run, and the least of what its places lead to.
	least := map[string]int{}
	for i := len(d.Rounds) - 1; i >= 0; i-- {
		for _, h := range d.Rounds[i].Heats {
			further := -1
			for at := 1; at <= len(h.Lanes); at++ {
				runs := least[goesTo[place{h.ID, at}]]
				if further < 0 || runs < further {
					further = runs
				}
			}
			least[h.ID] = 1 + max(further, 0)
		}
	}
	var runs []int
	for _, r := range d.Rounds {
		for _, h := range r.Heats {
			for _, s := range h.Lanes {
				if s.Kind != EntrySlot {
					continue
				}
				for len(runs) <= s.Entry {
					runs = append(runs, 0)
				}
				runs[s.Entry] += least[h.ID]
			}
		}
	}
	return runs
}
