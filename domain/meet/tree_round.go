package meet

import "benchmeet/bracket"

// treeRound makes a round of a stage that was drawn as a whole: its cars are
// those whom the results so far send there.
func (s *State) treeRound(method string, d Division, stage, round int, seeds []EntryID, tree *bracket.Draw) RoundDrawn {
	out := RoundDrawn{Method: method, Heats: []DrawnHeat{}}
	in := map[string]bracket.HeatView{}
	for _, v := range tree.Follow(s.treeResults(d, stage, seeds)) {
		in[v.ID] = v
	}
	for _, h := range tree.Rounds[round-1].Heats {
		heat := DrawnHeat{Entries: []EntryID{}, From: h.Lanes, Third: h.Purpose == bracket.ThirdPlace}
		there := 0
		for _, at := range in[h.ID].Lanes {
			if at < 0 {
				continue
			}
			heat.Entries = append(heat.Entries, seeds[at])
			if s.Entries[seeds[at]].Racing() {
				there++
			}
		}
		heat.Walkover = there < 2
		out.Heats = append(out.Heats, heat)
	}
	for _, slot := range tree.Rounds[round-1].Byes {
		if slot.Kind == bracket.EntrySlot {
			out.Byes = append(out.Byes, seeds[slot.Entry])
		}
	}
	return out
}

// treeResults are the orders of finish of a stage's heats, as positions in the
// seeds, under the ids of the tree.
func (s *State) treeResults(d Division, stage int, seeds []EntryID) bracket.Results {
	at := make(map[EntryID]int, len(seeds))
	for i, id := range seeds {
		at[id] = i
	}
	res := bracket.Results{Heats: map[string][]int{}}
	if len(s.Programmes[d.ID].Stages) < stage {
		return res
	}
	for _, r := range s.Programmes[d.ID].Stages[stage-1].Rounds {
		for _, id := range r.Heats {
			h := s.Heats[id]
			if !h.posted() {
				continue
			}
			order, _ := s.Order(h)
			places := []int{}
			for _, line := range order {
				if !line.Out {
					places = append(places, at[line.Entry])
				}
			}
			res.Heats[bracket.HeatID(h.Round, h.Number)] = places
		}
	}
	return res
}
