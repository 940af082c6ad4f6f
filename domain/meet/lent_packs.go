package meet

import (
	"benchmeet/domain/day"
	"benchmeet/domain/inspection"
	"benchmeet/domain/refusal"
)

// AddPacks brings packs of the club to the battery table, to be lent.
type AddPacks struct {
	Packs []day.PackID
}

func (c AddPacks) decide(s *day.State, m Meta) ([]day.Event, error) {
	if err := s.MustBePlanned(); err != nil {
		return nil, err
	}
	if len(c.Packs) == 0 || len(c.Packs) > inspection.MostPacks {
		return nil, refusal.New("packs-count", "most", inspection.MostPacks)
	}
	given := map[day.PackID]bool{}
	for _, id := range c.Packs {
		if err := day.CheckID("pack", string(id)); err != nil {
			return nil, err
		}
		if _, there := s.Packs[id]; there {
			return nil, refusal.New("pack-there", "pack", id)
		}
		if given[id] {
			return nil, refusal.New("pack-twice", "pack", id)
		}
		given[id] = true
	}
	return []day.Event{day.PacksAdded{Packs: c.Packs, By: m.Actor}}, nil
}

// IssuePack lends a pack to an entry.
type IssuePack struct {
	Pack  day.PackID
	Entry day.EntryID
}

func (c IssuePack) decide(s *day.State, m Meta) ([]day.Event, error) {
	p, err := inspection.FindPack(s, c.Pack)
	if err != nil {
		return nil, err
	}
	e, err := s.Entry(c.Entry)
	if err != nil {
		return nil, err
	}
	switch {
	case !p.Lent:
		return nil, refusal.New("pack-own", "pack", c.Pack)
	case p.Entry == c.Entry && !p.Aside:
		return nil, nil
	}
	if _, err := inspection.Judged(s, p, m.NowUS).Issue(e.StartNumber); err != nil {
		return nil, err
	}
	for _, other := range inspection.MissingPacks(s) {
		if other.Entry == c.Entry {
			return nil, refusal.New("pack-has", "number", e.StartNumber, "pack", other.ID)
		}
	}
	// What could not race is not handed out: the child would be sent back.
	if s.Rules.BatteryGate != day.GateOff && len(inspection.Windows(s, e.Division)) > 0 {
		if no := inspection.PackReady(s, p, e.Division, m.NowUS); len(no) > 0 {
			return nil, no[0]
		}
	}
	return []day.Event{day.PackIssued{Pack: c.Pack, Entry: c.Entry, By: m.Actor}}, nil
}

// ReturnPack takes a lent pack back. One that is hot, swollen, leaking or damaged
// is put aside.
type ReturnPack struct {
	Pack day.PackID
	Hurt bool
}

func (c ReturnPack) decide(s *day.State, m Meta) ([]day.Event, error) {
	p, err := inspection.FindPack(s, c.Pack)
	if err != nil {
		return nil, err
	}
	if !p.Lent {
		return nil, refusal.New("pack-own", "pack", c.Pack)
	}
	if _, err := inspection.Judged(s, p, m.NowUS).Return(c.Hurt); err != nil {
		return nil, err
	}
	return []day.Event{day.PackReturned{Pack: c.Pack, Entry: p.Entry, Hurt: c.Hurt, By: m.Actor}}, nil
}
