package programme

import (
	"fmt"

	"benchmeet/bracket"
	"benchmeet/domain/day"
)

// treeHeat is the meet's id of a heat of a stage's tree, whose ids are
// "round.number".
func treeHeat(d day.DivisionID, stage int, id string) day.HeatID {
	return day.HeatID(fmt.Sprintf("%s-%d.%s", d, stage, id))
}

func seedAt(seeds []day.EntryID, at int) day.EntryID {
	if at < 0 || at >= len(seeds) {
		return ""
	}
	return seeds[at]
}

// drawnTree makes a round of a stage that is drawn as a whole with its first one;
// later rounds follow the draw that stands.
func drawnTree(
	s *day.State, method string, d day.Division, stage, round int, seeds []day.EntryID, draw func() (*bracket.Draw, error),
) (day.RoundDrawn, error) {
	if round > 1 {
		return treeRound(s, method, d, stage, round, seeds, s.Programmes[d.ID].Stages[stage-1].Tree), nil
	}
	made, err := draw()
	if err != nil {
		return day.RoundDrawn{}, err
	}
	out := treeRound(s, method, d, stage, round, seeds, made)
	out.Tree = made
	return out, nil
}

// treeRound makes a round of a stage that was drawn as a whole: its cars are
// those whom the results so far send there.
func treeRound(s *day.State, method string, d day.Division, stage, round int, seeds []day.EntryID, tree *bracket.Draw) day.RoundDrawn {
	out := day.RoundDrawn{Method: method, Heats: []day.DrawnHeat{}}
	_, form := FormOf(d, stage)
	in := map[string]bracket.HeatView{}
	for _, v := range tree.Follow(treeResults(s, d, stage, seeds)) {
		in[v.ID] = v
	}
	for _, h := range tree.Rounds[round-1].Heats {
		if in[h.ID].State == bracket.NotNeeded {
			continue
		}
		heat := day.DrawnHeat{Entries: []day.EntryID{}, From: h.Lanes, Third: h.Purpose == bracket.ThirdPlace, Group: h.Group}
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
		heat.Walkover = there == 0 || there == 1 && form.Walkover()
		if tree.Legs < 2 {
			out.Heats = append(out.Heats, heat)
			continue
		}
		heat.Number = len(out.Heats)/2 + 1
		out.Heats = append(out.Heats, heat.OfLeg(1), heat.OfLeg(2))
	}
	out.Byes = byes(tree.Rounds[round-1], in, seeds)
	return out
}

// byes are the entries that go on without a heat in a round, as far as the
// results say who they are.
func byes(r bracket.Round, in map[string]bracket.HeatView, seeds []day.EntryID) []day.EntryID {
	var out []day.EntryID
	for _, slot := range r.Byes {
		order := in[slot.Heat].Order
		switch {
		case slot.Kind == bracket.EntrySlot:
			out = append(out, seedAt(seeds, slot.Entry))
		case slot.Kind == bracket.WinnerSlot && len(order) > 0:
			out = append(out, seedAt(seeds, order[0]))
		case slot.Kind == bracket.LoserSlot && len(order) == 2:
			out = append(out, seedAt(seeds, order[1]))
		}
	}
	return out
}

// treeResults are the orders of finish of a stage's heats, as positions in the
// seeds, under the ids of the tree.
func treeResults(s *day.State, d day.Division, stage int, seeds []day.EntryID) bracket.Results {
	at := make(map[day.EntryID]int, len(seeds))
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
			order, decided := outcomeOf(s, h)
			if !decided {
				continue
			}
			places := []int{}
			for _, line := range order {
				if !line.Out {
					places = append(places, at[line.Entry])
				}
			}
			res.Heats[bracket.HeatID(h.Round, h.Number)] = places
		}
	}
	if form, is := d.Stages[stage-1].Form.(nextBester); is {
		res.NextBest = map[int][]int{}
		for round := range s.Programmes[d.ID].Stages[stage-1].Rounds {
			if best, known := form.nextBest(s, d, stage, round+1); known {
				for _, line := range best {
					res.NextBest[round+1] = append(res.NextBest[round+1], at[line.Entry])
				}
			}
		}
	}
	return res
}
