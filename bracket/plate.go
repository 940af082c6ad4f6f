package bracket

import "slices"

// PlatePart is the part of a knockout for those beaten at once.
const PlatePart = "plate"

// addPlate adds the plate's rounds, each behind the first round of the main part after which it can run, and numbers
// all rounds anew. Without two who can run in it there is none, which a note says.
func (d *Draw) addPlate(thirdPlace bool) {
	last := len(d.Rounds)
	var seats []Slot
	for i, r := range d.Rounds[:min(2, last)] {
		round := i + 1
		if round == last || thirdPlace && round == last-1 {
			break
		}
		for _, h := range r.Heats {
			if round == 1 || slices.ContainsFunc(h.Lanes, func(s Slot) bool { return s.Kind == EntrySlot }) {
				seats = append(seats, LoserOf(h.ID))
			}
		}
	}
	if len(seats) < 2 {
		d.Notes = append(d.Notes, Note{Code: NoPlate})
		return
	}
	lines, _, err := knockoutLines(len(seats), KnockoutOptions{Seeds: len(seats)})
	if err != nil {
		panic("bracket: the number of the beaten was checked: " + err.Error())
	}
	laid := make([]Slot, len(lines))
	for i, e := range lines {
		laid[i] = EntryAt(noEntry)
		if e != noEntry {
			laid[i] = seats[e]
		}
	}
	plate := knockoutRounds(laid, last+1, false)
	for i := range plate {
		plate[i].Part = PlatePart
		for k := range plate[i].Heats {
			if plate[i].Heats[k].Purpose == Final {
				plate[i].Heats[k].Purpose = PlateFinal
			}
		}
	}
	// The plate's first round follows the second of the main part; from there on they take turns, and the main
	// final stays the last.
	main := d.Rounds
	first := min(2, last-1)
	order := slices.Clone(main[:first])
	for i := 0; i < max(len(plate), last-1-first); i++ {
		if i < len(plate) {
			order = append(order, plate[i])
		}
		if first+i < last-1 {
			order = append(order, main[first+i])
		}
	}
	d.Rounds = renumbered(append(order, main[last-1]))
}

// renumbered gives the rounds the numbers 1, 2, ... and their heats ids to match, in all slots that name them.
func renumbered(rounds []Round) []Round {
	ids := map[string]string{}
	for i := range rounds {
		rounds[i].Number = i + 1
		for k := range rounds[i].Heats {
			h := &rounds[i].Heats[k]
			ids[h.ID] = HeatID(i+1, k+1)
			h.ID = ids[h.ID]
		}
	}
	rename := func(slots []Slot) {
		for k := range slots {
			if id, known := ids[slots[k].Heat]; known {
				slots[k].Heat = id
			}
		}
	}
	for i := range rounds {
		rename(rounds[i].Byes)
		for k := range rounds[i].Heats {
			rename(rounds[i].Heats[k].Lanes)
		}
	}
	return rounds
}
