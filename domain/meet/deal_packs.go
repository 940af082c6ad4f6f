package meet

import (
	"benchmeet/domain/fairness"
	"benchmeet/domain/refusal"
)

// DealPacks deals like packs of the club to heats by lot: every heat a set of its
// own, so that nobody chooses. The packs are those at the table whose last check
// passed and measured two loads. The seed is Meta.Seed.
type DealPacks struct {
	// Heats are of one division, drawn and not called.
	Heats []HeatID
	// RaceMA is about what a car takes, in mA; SpreadMV and SpreadMOhm say how like
	// the packs of one heat have to be. See [fairness.Matching].
	RaceMA     int64
	SpreadMV   int64
	SpreadMOhm int64
}

// PacksDealt says which pack each lane takes, and the lots behind it: with the
// seed and the sets anybody can deal again.
type PacksDealt struct {
	Heats   []DealtHeat       `json:"dealt"`
	LotSeed uint64            `json:"lot_seed"`
	Match   fairness.Matching `json:"match"`
	Sets    [][]PackID        `json:"sets"`
	By      string            `json:"by"`
}

// DealtHeat is what was dealt to one heat.
type DealtHeat struct {
	Heat  HeatID           `json:"heat"`
	Dealt []fairness.Dealt `json:"packs"`
}

// MostDealt bounds how many heats are dealt to at once.
const MostDealt = 64

func (c DealPacks) decide(s *State, m Meta) ([]Event, error) {
	if len(c.Heats) == 0 || len(c.Heats) > MostDealt {
		return nil, refusal.New("deal-heats", "most", MostDealt)
	}
	e := PacksDealt{LotSeed: m.Seed, By: m.Actor}
	e.Match = fairness.Matching{RaceMA: c.RaceMA, SpreadMV: c.SpreadMV, SpreadMOhm: c.SpreadMOhm}
	var heats [][]string
	dealing := map[HeatID]bool{}
	var division DivisionID
	for _, id := range c.Heats {
		h, err := s.Heat(id)
		if err != nil {
			return nil, err
		}
		if h.Phase != PhaseDrawn || dealing[id] || division != "" && division != h.Division {
			return nil, refusal.New("deal-called", "heat", id)
		}
		dealing[id], division = true, h.Division
		var entries []string
		for _, l := range h.Lanes {
			if l.State != LaneDone {
				entries = append(entries, string(l.Entry))
			}
		}
		heats = append(heats, entries)
		e.Match.Size = max(e.Match.Size, len(entries))
	}
	sets, _, err := fairness.MatchPacks(Dealable(s, division, dealing, m.NowUS), e.Match)
	if err != nil {
		return nil, err
	}
	dealt, err := fairness.DealPacks(sets, heats, m.Seed)
	if err != nil {
		return nil, err
	}
	for _, set := range sets {
		var ids []PackID
		for _, p := range set {
			ids = append(ids, PackID(p.ID))
		}
		e.Sets = append(e.Sets, ids)
	}
	for i, id := range c.Heats {
		e.Heats = append(e.Heats, DealtHeat{id, dealt[i]})
	}
	return []Event{e}, nil
}

// Dealable are the packs at the table that may race and that no other heat waits
// for.
func Dealable(s *State, division DivisionID, again map[HeatID]bool, nowUS int64) []fairness.PackFigures {
	taken := map[PackID]bool{}
	for _, h := range s.Heats {
		for _, l := range h.Lanes {
			if l.State != LaneDone && !again[h.ID] {
				taken[l.Dealt] = true
			}
		}
	}
	var out []fairness.PackFigures
	for _, p := range SortedPacks(s) {
		f, measured := p.Figures()
		if p.Lent && p.Entry == "" && measured && !taken[p.ID] && len(PackReady(s, p, division, nowUS)) == 0 {
			out = append(out, f)
		}
	}
	return out
}

// Type is the name in the log.
func (PacksDealt) Type() string { return "PacksDealt" }

func (e PacksDealt) apply(s *State) {
	for _, heat := range e.Heats {
		to := map[EntryID]PackID{}
		for _, d := range heat.Dealt {
			to[EntryID(d.Entry)] = PackID(d.Pack)
		}
		h := s.Heats[heat.Heat]
		s.Heats[heat.Heat] = h.withLanes(func(_ int, l Lane) Lane {
			if id, dealt := to[l.Entry]; dealt {
				l.Dealt = id
			}
			return l
		})
	}
}
