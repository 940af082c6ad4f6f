package bracket

import "slices"

// What a lane of a followed heat may hold besides an entry.
const (
	// Unknown is a lane whose entry an earlier heat still has to decide.
	Unknown = -1
	// Vacant is a lane that nobody will come to: the heat or place it waits for gave no entry.
	Vacant = -2
)

// HeatState says how far a heat of a plan is.
type HeatState string

// The states of a heat.
const (
	// Waiting heats have a lane whose entry is not decided yet.
	Waiting HeatState = "waiting"
	// Ready heats have all their entries, two or more, and no result.
	Ready HeatState = "ready"
	// Walkover heats have one entry or none and nobody else will come: they count as decided.
	Walkover HeatState = "walkover"
	// Decided heats have a result.
	Decided HeatState = "decided"
	// NotNeeded is a reserved heat that will not run.
	NotNeeded HeatState = "not-needed"
)

// Results are what is known so far. The zero value knows nothing.
type Results struct {
	// Heats holds, by heat id, the entries in order of finish. Entries that are out of the competition
	// (withdrawn, disqualified) may be left out: nobody then comes from their place.
	Heats map[string][]int
	// Groups holds, by group name, the entries in their final order.
	Groups map[string][]int
	// NextBest holds, by the number of the round that they come from (0 for groups), the next best in order.
	NextBest map[int][]int
}

// HeatView is a heat of a plan as it stands.
type HeatView struct {
	ID    string
	Round int
	// Lanes holds the entry of each lane, or Unknown or Vacant.
	Lanes []int
	State HeatState
	// Order holds the entries in order of finish; for a walkover the one entry.
	Order []int
	// Contradicts is true when the result names an entry that does not belong to the lanes any more,
	// because an earlier result was changed after the heat had run. The result is kept; an official decides.
	Contradicts bool
}

// Follow lays the results over the plan and returns every heat as it stands, in playing order. It is pure and
// costs one pass over the plan.
func (d *Draw) Follow(res Results) []HeatView {
	var views []HeatView
	at := map[string]int{}
	for _, r := range d.Rounds {
		for _, h := range r.Heats {
			v := HeatView{ID: h.ID, Round: r.Number}
			for _, s := range h.Lanes {
				v.Lanes = append(v.Lanes, fill(s, res, views, at))
			}
			v.settle(h, res, views, at)
			at[h.ID] = len(views)
			views = append(views, v)
		}
	}
	return views
}

// Lanes returns one heat as it stands, and whether the plan has it. It costs as much as Follow.
func (d *Draw) Lanes(id string, res Results) (HeatView, bool) {
	for _, v := range d.Follow(res) {
		if v.ID == id {
			return v, true
		}
	}
	return HeatView{}, false
}

func fill(s Slot, res Results, views []HeatView, at map[string]int) int {
	switch s.Kind {
	case EntrySlot:
		return s.Entry
	case GroupSlot:
		if order, known := res.Groups[s.Group]; known {
			return placed(order, s.Place)
		}
		return Unknown
	case NextBestSlot:
		if order, known := res.NextBest[s.Round]; known {
			return placed(order, s.Place)
		}
		return Unknown
	case EmptySlot:
		return Vacant
	}
	// Heats stand in playing order, so whatever a lane waits for has been laid out before.
	i, known := at[s.Heat]
	if !known {
		return Unknown
	}
	v := views[i]
	switch v.State {
	case Waiting, Ready:
		return Unknown
	// Nobody comes out of a heat that does not run.
	case NotNeeded:
		return Vacant
	}
	switch s.Kind {
	case WinnerSlot:
		return placed(v.Order, 1)
	case LoserSlot:
		// The last place of the lanes and not of the order: a walkover has no loser.
		return placed(v.Order, len(v.Lanes))
	default:
		return placed(v.Order, s.Place)
	}
}

func placed(order []int, place int) int {
	if place < 1 || place > len(order) {
		return Vacant
	}
	return order[place-1]
}

func (v *HeatView) settle(h Heat, res Results, views []HeatView, at map[string]int) {
	// A second final runs only if whoever came without a loss, on the first lane of the first
	// final, has lost that one: then both have lost once.
	if h.IfNeeded {
		if i, known := at[h.Lanes[0].Heat]; known {
			first := views[i]
			if len(first.Order) == 0 && first.State != Waiting && first.State != Ready ||
				len(first.Order) > 0 && first.Order[0] == first.Lanes[0] {
				v.State = NotNeeded
				return
			}
		}
	}
	// A result stands, even where the lanes have changed since: that is told, not undone.
	if order, decided := res.Heats[h.ID]; decided {
		v.State = Decided
		v.Order = order
		for _, e := range order {
			if !slices.Contains(v.Lanes, e) {
				v.Contradicts = true
			}
		}
		return
	}
	var present []int
	for _, e := range v.Lanes {
		switch e {
		case Unknown:
			v.State = Waiting
			return
		case Vacant:
		default:
			present = append(present, e)
		}
	}
	if len(present) < 2 {
		v.State = Walkover
		v.Order = present
		return
	}
	v.State = Ready
}
