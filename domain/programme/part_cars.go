package programme

import (
	"slices"

	"benchmeet/bracket"
	"benchmeet/domain/day"
)

// partCars looks again, now that results say who comes into the heats of a round,
// whether a car has been sent to one heat twice: siblings share cars. Where two
// lanes of the round can be exchanged to part them it returns a draw in which
// they are, those of the same place first. Where not (a final is one heat), they
// run one after the other, as the call gives them the bench.
func partCars(s *day.State, d day.Division, stage, round int, seeds []day.EntryID) (*bracket.Draw, bool) {
	tree := s.Programmes[d.ID].Stages[stage-1].Tree
	cars := carsOf(s, seeds)
	var heats [][]int // the cars of each heat by lane, or a negative number
	for _, v := range tree.Follow(treeResults(s, d, stage, seeds)) {
		if v.Round != round {
			continue
		}
		heat := make([]int, len(v.Lanes))
		for i, at := range v.Lanes {
			heat[i] = -1
			if at >= 0 {
				heat[i] = cars[at]
			}
		}
		heats = append(heats, heat)
	}
	moves := exchanges(heats, tree.Rounds[round-1].Heats)
	if len(moves) == 0 {
		return tree, false
	}
	parted := *tree
	parted.Rounds = slices.Clone(tree.Rounds)
	r := &parted.Rounds[round-1]
	r.Heats = slices.Clone(r.Heats)
	for i := range r.Heats {
		r.Heats[i].Lanes = slices.Clone(r.Heats[i].Lanes)
	}
	for _, m := range moves {
		a, b := &r.Heats[m.a.heat].Lanes[m.a.lane], &r.Heats[m.b.heat].Lanes[m.b.lane]
		*a, *b = *b, *a
	}
	return &parted, true
}

// seatAt is a lane of a round by its numbers from 0.
type seatAt struct{ heat, lane int }

type exchange struct{ a, b seatAt }

// exchanges finds exchanges of lanes that part cars, one after the other, and
// carries them out in heats.
func exchanges(heats [][]int, slots []bracket.Heat) []exchange {
	var out []exchange
	for h := range heats {
		if slots[h].Purpose != "" {
			continue // a final and a B-final exchange nobody
		}
		for lane, car := range heats[h] {
			if car < 0 || !slices.Contains(heats[h][:lane], car) {
				continue
			}
			if to, found := partner(heats, slots, seatAt{h, lane}); found {
				heats[h][lane], heats[to.heat][to.lane] = heats[to.heat][to.lane], heats[h][lane]
				out = append(out, exchange{seatAt{h, lane}, to})
			}
		}
	}
	return out
}

// partner finds a lane of another heat with which one can be exchanged so that no
// car stands twice in either heat; one of the same place is preferred.
func partner(heats [][]int, slots []bracket.Heat, from seatAt) (seatAt, bool) {
	place := slots[from.heat].Lanes[from.lane].Place
	var found *seatAt
	for h := range heats {
		if h == from.heat || slots[h].Purpose != "" {
			continue
		}
		for lane, car := range heats[h] {
			if car < 0 || slices.Contains(heats[from.heat], car) || slices.Contains(heats[h], heats[from.heat][from.lane]) {
				continue
			}
			at := seatAt{h, lane}
			if slots[h].Lanes[lane].Place == place {
				return at, true
			}
			if found == nil {
				found = &at
			}
		}
	}
	if found == nil {
		return seatAt{}, false
	}
	return *found, true
}
