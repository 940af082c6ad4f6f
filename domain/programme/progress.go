package programme

import (
	"cmp"
	"maps"
	"slices"

	"benchmeet/bracket"
	"benchmeet/domain/day"
)

// Progress says how far a division is.
type Progress struct {
	Stage, Round int  // last drawn, from 1; 0 before the first draw
	Rounds       int  // of that stage in all
	Closed       bool // all rounds of that stage that were drawn
	// Open are the rounds of that stage that are not closed, in order.
	Open []int
	// DrawNext says that the next round can be drawn now.
	DrawNext bool
}

// ProgressOf says how far a division is.
func ProgressOf(s *day.State, division day.DivisionID) Progress {
	p := s.Programmes[division]
	stage, round := p.Round()
	if stage == 0 {
		return Progress{}
	}
	d := s.Divisions[division]
	_, form := FormOf(d, stage)
	open := p.OpenRounds(stage)
	_, _, err := NextRound(s, d)
	return Progress{stage, round, form.Rounds(s, d, stage), len(open) == 0, open, err == nil}
}

// Round is a round as a programme shows it, drawn or still to come.
type Round struct {
	Stage, Number int
	Drawn, Closed bool
	LotSeed       uint64
	Method        string
	Byes          []day.EntryID
	// ByeReasons explain the bye of a Swiss round.
	ByeReasons []bracket.Reason
	Heats      []RoundHeat
}

// RoundHeat is a heat of a round, drawn or still to come.
type RoundHeat struct {
	ID    day.HeatID
	Third bool
	Group string
	// Reasons explain the pairing of a Swiss round.
	Reasons []bracket.Reason
	// Number is the heat's number in its round, Leg its leg where there are several.
	Number, Leg int
	// Purpose is what a heat of a draw decides more than who goes on.
	Purpose bracket.Purpose
	// IfNeeded marks a second final that may not be raced.
	IfNeeded bool
	Slots    []RoundSlot
}

// RoundSlot is a place in a heat: an entry, or where the entry will come from.
type RoundSlot struct {
	Entry    day.EntryID
	WinnerOf day.HeatID
	LoserOf  day.HeatID
	// PlaceOf is the heat of which Place (from 1) comes here.
	PlaceOf day.HeatID
	Place   int
	// NextBest counts from 1 among the next best of Round.
	NextBest int
	Round    int
	Nobody   bool // nobody will come
}

// Rounds are a division's rounds in order: those that were drawn, then those of
// which the draw already says what they will be.
func Rounds(s *day.State, division day.DivisionID) []Round {
	var out []Round
	for i, st := range s.Programmes[division].Stages {
		for k, r := range st.Rounds {
			if r.Closed && len(r.Heats) == 0 && len(r.Byes) == 0 {
				continue // a second final that was drawn and then not needed
			}
			round := Round{
				Stage: i + 1, Number: k + 1, Drawn: true, Closed: r.Closed,
				LotSeed: r.LotSeed, Method: r.Method, Byes: r.Byes, ByeReasons: r.ByeReasons,
			}
			for _, id := range r.Heats {
				round.Heats = append(round.Heats, drawnSlots(s, s.Heats[id]))
			}
			slices.SortStableFunc(round.Heats, func(a, b RoundHeat) int { // a decider was drawn last
				return cmp.Or(cmp.Compare(a.Number, b.Number), cmp.Compare(a.Leg, b.Leg))
			})
			out = append(out, round)
		}
		if st.Tree != nil {
			out = append(out, coming(s, division, i+1, st)...)
		}
	}
	return out
}

func drawnSlots(s *day.State, h day.Heat) RoundHeat {
	out := RoundHeat{ID: h.ID, Third: h.Third, Group: h.Group, Reasons: h.Reasons, Purpose: Purpose(s, h), Number: h.Number, Leg: h.Leg}
	for _, l := range h.Lanes {
		out.Slots = append(out.Slots, RoundSlot{Entry: l.Entry})
	}
	for i := len(h.Lanes); i < len(h.From); i++ {
		out.Slots = append(out.Slots, RoundSlot{Nobody: true})
	}
	return out
}

// Purpose is what the draw of a heat's stage says that the heat decides.
func Purpose(s *day.State, h day.Heat) bracket.Purpose {
	drawn, there := TreeOf(s, h)
	if !there {
		return ""
	}
	return drawn.Purpose
}

// TreeOf is a heat as the draw of its stage has it, where the stage was drawn as
// a whole.
func TreeOf(s *day.State, h day.Heat) (bracket.Heat, bool) {
	p := s.Programmes[h.Division]
	if len(p.Stages) < h.Stage || p.Stages[h.Stage-1].Tree == nil {
		return bracket.Heat{}, false
	}
	return p.Stages[h.Stage-1].Tree.Heat(bracket.HeatID(h.Round, h.Number))
}

// coming are the rounds of a stage with a tree that are not drawn yet.
func coming(s *day.State, division day.DivisionID, stage int, st day.StageState) []Round {
	views := map[string]bracket.HeatView{}
	for _, v := range st.Tree.Follow(treeResults(s, s.Divisions[division], stage, st.Seeds)) {
		views[v.ID] = v
	}
	var out []Round
	for _, r := range st.Tree.Rounds[len(st.Rounds):] {
		round := Round{Stage: stage, Number: r.Number}
		for i, h := range r.Heats {
			if state := views[h.ID].State; h.IfNeeded && (state == bracket.NotNeeded || state == bracket.Walkover) {
				continue
			}
			heat := RoundHeat{
				ID: treeHeat(division, stage, h.ID), Third: h.Purpose == bracket.ThirdPlace, Group: h.Group,
				Number: i + 1, Purpose: h.Purpose, IfNeeded: h.IfNeeded,
			}
			for lane, slot := range h.Lanes {
				heat.Slots = append(heat.Slots, comingSlot(division, stage, st, slot, views[h.ID].Lanes[lane]))
			}
			round.Heats = append(round.Heats, heat)
		}
		round.Byes = byes(r, views, st.Seeds)
		if len(round.Heats) > 0 {
			out = append(out, round)
		}
	}
	return out
}

func comingSlot(division day.DivisionID, stage int, st day.StageState, slot bracket.Slot, at int) RoundSlot {
	switch {
	case at >= 0:
		return RoundSlot{Entry: seedAt(st.Seeds, at)}
	case at == bracket.Vacant:
		return RoundSlot{Nobody: true}
	case slot.Kind == bracket.PlaceSlot:
		return RoundSlot{PlaceOf: treeHeat(division, stage, slot.Heat), Place: slot.Place}
	case slot.Kind == bracket.NextBestSlot:
		return RoundSlot{NextBest: slot.Place, Round: slot.Round}
	case slot.Kind == bracket.LoserSlot:
		return RoundSlot{LoserOf: treeHeat(division, stage, slot.Heat)}
	}
	return RoundSlot{WinnerOf: treeHeat(division, stage, slot.Heat)}
}

// Places are the places in a posted heat by entry, shared by equals; empty
// before.
func Places(s *day.State, h day.Heat) map[day.EntryID]int {
	if !h.Posted() {
		return nil
	}
	order, _ := FinishOf(s, h)
	places := make(map[day.EntryID]int, len(order))
	for i, line := range order {
		if line.Out {
			continue
		}
		places[line.Entry] = i + 1
		if i > 0 && order[i-1].Valued && line.Valued && order[i-1].DistanceUM == line.DistanceUM {
			places[line.Entry] = places[order[i-1].Entry]
		}
	}
	return places
}

// SortedProtests are the protests by the instant they were lodged, then id.
func SortedProtests(s *day.State) []day.Protest {
	return slices.SortedFunc(maps.Values(s.Protests), func(a, b day.Protest) int {
		return cmp.Or(cmp.Compare(a.LodgedUS, b.LodgedUS), cmp.Compare(a.ID, b.ID))
	})
}
