package bracket

import "slices"

// Placing is the place of an entry in a plan that knocks out.
type Placing struct {
	Entry int
	// Rank counts from 1; entries knocked out in the same round share it (1 2 3 3 5 5 5 5).
	Rank int
	// Done is false for an entry that may still run: its rank is then the best it shares for now.
	Done bool
}

// Placings ranks the entries of a knockout or double elimination by how far they came: those still in first,
// then by the round of the last heat, the later the better. The final and the heat for third place rank their
// entries by their order of finish, other rounds let those they knock out share a rank. Equal ranks are listed
// by entry number. A plate does not count here; PlatePlacings ranks it.
func (d *Draw) Placings(res Results) []Placing {
	return d.placings(res, func(r Round) bool { return r.Part != PlatePart })
}

// PlatePlacings ranks those who have come into the plate of a knockout so far, as Placings does.
func (d *Draw) PlatePlacings(res Results) []Placing {
	return d.placings(res, func(r Round) bool { return r.Part == PlatePart })
}

func (d *Draw) placings(res Results, counts func(Round) bool) []Placing {
	exits := map[int]exit{}
	var entries []int
	next := map[string][]Slot{}
	purpose := map[string]Purpose{}
	meetEntry := func(e int) {
		if _, seen := exits[e]; e >= 0 && !seen {
			exits[e] = exit{}
			entries = append(entries, e)
		}
	}
	counted := map[int]bool{}
	for _, r := range d.Rounds {
		if counted[r.Number] = counts(r); !counted[r.Number] {
			continue
		}
		for _, s := range r.Byes {
			if s.Kind == EntrySlot {
				meetEntry(s.Entry)
			}
		}
		for _, h := range r.Heats {
			purpose[h.ID] = h.Purpose
			for _, s := range h.Lanes {
				next[s.Heat] = append(next[s.Heat], s)
			}
		}
	}
	views := slices.DeleteFunc(d.Follow(res), func(v HeatView) bool { return !counted[v.Round] })
	last := ""
	for _, v := range views {
		for _, e := range v.Lanes {
			meetEntry(e)
		}
		if p := purpose[v.ID]; (p == Final || p == SecondFinal || p == PlateFinal) && v.State != NotNeeded {
			last = v.ID
		}
	}
	for _, v := range views {
		if v.State != Decided && v.State != Walkover {
			continue
		}
		for place, e := range v.Order {
			exits[e] = exit{
				round: v.Round,
				place: rankInRound(purpose[v.ID], place),
				done:  v.ID == last || !goesOn(place, len(v.Lanes), next[v.ID]),
			}
		}
		// Whoever ran and is not in the order is out, behind those who are.
		for _, e := range v.Lanes {
			if e >= 0 && !slices.Contains(v.Order, e) {
				exits[e] = exit{round: v.Round, place: rankInRound(purpose[v.ID], len(v.Order)), done: true}
			}
		}
	}
	return rankExits(entries, exits, len(d.Rounds)+1)
}

// exit is the last that is known of an entry.
type exit struct {
	round, place int
	done         bool
}

// rankInRound orders the ends of one round: final, third place, then everybody else by place (from 0).
func rankInRound(p Purpose, place int) int {
	switch p {
	case Final, SecondFinal, PlateFinal:
		return place
	case ThirdPlace:
		return 2 + place
	}
	return 4 + place
}

// goesOn says whether a place (from 0) of a heat leads to a later heat.
func goesOn(place, lanes int, next []Slot) bool {
	return slices.ContainsFunc(next, func(s Slot) bool {
		switch s.Kind {
		case WinnerSlot:
			return place == 0
		case LoserSlot:
			return place == lanes-1
		case PlaceSlot:
			return place == s.Place-1
		}
		return false
	})
}

func rankExits(entries []int, exits map[int]exit, beyond int) []Placing {
	for _, e := range entries {
		if !exits[e].done {
			exits[e] = exit{round: beyond}
		}
	}
	slices.SortFunc(entries, func(a, b int) int {
		x, y := exits[a], exits[b]
		if x.round != y.round {
			return y.round - x.round
		}
		if x.place != y.place {
			return x.place - y.place
		}
		return a - b
	})
	placings := make([]Placing, len(entries))
	for i, e := range entries {
		placings[i] = Placing{Entry: e, Rank: i + 1, Done: exits[e].done}
		if i > 0 && exits[e] == exits[entries[i-1]] {
			placings[i].Rank = placings[i-1].Rank
		}
	}
	return placings
}
