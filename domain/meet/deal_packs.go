package meet

import (
	"benchmeet/domain/battery"
	"benchmeet/domain/day"
	"benchmeet/domain/inspection"
	"benchmeet/domain/refusal"
)

// DealPacks deals like packs of the club to heats by lot: every heat a set of its
// own, so that nobody chooses. The packs are those at the table whose last check
// passed and measured two loads. The seed is Meta.Seed.
type DealPacks struct {
	// Heats are of one division, drawn and not called.
	Heats []day.HeatID
	// RaceMA is about what a car takes, in mA; SpreadMV and SpreadMOhm say how like
	// the packs of one heat have to be. See [fairness.Matching].
	RaceMA     int64
	SpreadMV   int64
	SpreadMOhm int64
}

func (c DealPacks) decide(s *day.State, m Meta) ([]day.Event, error) {
	if len(c.Heats) == 0 || len(c.Heats) > inspection.MostDealt {
		return nil, refusal.New("deal-heats", "most", inspection.MostDealt)
	}
	e := day.PacksDealt{LotSeed: m.Seed, By: m.Actor}
	e.Match = battery.Matching{RaceMA: c.RaceMA, SpreadMV: c.SpreadMV, SpreadMOhm: c.SpreadMOhm}
	var heats [][]string
	dealing := map[day.HeatID]bool{}
	var division day.DivisionID
	for _, id := range c.Heats {
		h, err := s.Heat(id)
		if err != nil {
			return nil, err
		}
		if h.Phase != day.PhaseDrawn || dealing[id] || division != "" && division != h.Division {
			return nil, refusal.New("deal-called", "heat", id)
		}
		dealing[id], division = true, h.Division
		var entries []string
		for _, l := range h.Lanes {
			if l.State != day.LaneDone {
				entries = append(entries, string(l.Entry))
			}
		}
		heats = append(heats, entries)
		e.Match.Size = max(e.Match.Size, len(entries))
	}
	sets, _, err := battery.MatchPacks(inspection.Dealable(s, division, dealing, m.NowUS), e.Match)
	if err != nil {
		return nil, err
	}
	dealt, err := battery.DealPacks(sets, heats, m.Seed)
	if err != nil {
		return nil, err
	}
	for _, set := range sets {
		var ids []day.PackID
		for _, p := range set {
			ids = append(ids, day.PackID(p.ID))
		}
		e.Sets = append(e.Sets, ids)
	}
	for i, id := range c.Heats {
		e.Heats = append(e.Heats, day.DealtHeat{Heat: id, Dealt: dealt[i]})
	}
	return []day.Event{e}, nil
}
