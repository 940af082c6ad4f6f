package meet

import "benchmeet/domain/refusal"

// AddPacks brings packs of the club to the battery table, to be lent.
type AddPacks struct {
	Packs []PackID
}

// PacksAdded says which packs the club lends today.
type PacksAdded struct {
	Packs []PackID `json:"packs"`
	By    string   `json:"by"`
}

// MostPacks bounds how many packs are added at once.
const MostPacks = 500

func (c AddPacks) decide(s *State, m Meta) ([]Event, error) {
	if err := s.MustBePlanned(); err != nil {
		return nil, err
	}
	if len(c.Packs) == 0 || len(c.Packs) > MostPacks {
		return nil, refusal.New("packs-count", "most", MostPacks)
	}
	given := map[PackID]bool{}
	for _, id := range c.Packs {
		if err := CheckID("pack", string(id)); err != nil {
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
	return []Event{PacksAdded{c.Packs, m.Actor}}, nil
}

// Type is the name in the log.
func (PacksAdded) Type() string { return "PacksAdded" }

func (e PacksAdded) apply(s *State) {
	for _, id := range e.Packs {
		s.setPack(Pack{ID: id, Lent: true})
	}
}

// IssuePack lends a pack to an entry.
type IssuePack struct {
	Pack  PackID
	Entry EntryID
}

// PackIssued says that an entry has a pack of the club.
type PackIssued struct {
	Pack  PackID  `json:"pack"`
	Entry EntryID `json:"entry"`
	By    string  `json:"by"`
}

func (c IssuePack) decide(s *State, m Meta) ([]Event, error) {
	p, err := FindPack(s, c.Pack)
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
	if _, err := Judged(s, p, m.NowUS).Issue(e.StartNumber); err != nil {
		return nil, err
	}
	for _, other := range MissingPacks(s) {
		if other.Entry == c.Entry {
			return nil, refusal.New("pack-has", "number", e.StartNumber, "pack", other.ID)
		}
	}
	// What could not race is not handed out: the child would be sent back.
	if s.Rules.BatteryGate != GateOff && len(Windows(s, e.Division)) > 0 {
		if no := PackReady(s, p, e.Division, m.NowUS); len(no) > 0 {
			return nil, no[0]
		}
	}
	return []Event{PackIssued{c.Pack, c.Entry, m.Actor}}, nil
}

// Type is the name in the log.
func (PackIssued) Type() string { return "PackIssued" }

func (e PackIssued) apply(s *State) {
	p := s.Packs[e.Pack]
	p.Entry = e.Entry
	s.setPack(p)
}

// ReturnPack takes a lent pack back. One that is hot, swollen, leaking or damaged
// is put aside.
type ReturnPack struct {
	Pack PackID
	Hurt bool
}

// PackReturned says that a lent pack is back at the table.
type PackReturned struct {
	Pack  PackID  `json:"pack"`
	Entry EntryID `json:"entry"`
	Hurt  bool    `json:"hurt,omitempty"`
	By    string  `json:"by"`
}

func (c ReturnPack) decide(s *State, m Meta) ([]Event, error) {
	p, err := FindPack(s, c.Pack)
	if err != nil {
		return nil, err
	}
	if !p.Lent {
		return nil, refusal.New("pack-own", "pack", c.Pack)
	}
	if _, err := Judged(s, p, m.NowUS).Return(c.Hurt); err != nil {
		return nil, err
	}
	return []Event{PackReturned{Pack: c.Pack, Entry: p.Entry, Hurt: c.Hurt, By: m.Actor}}, nil
}

// Type is the name in the log.
func (PackReturned) Type() string { return "PackReturned" }

func (e PackReturned) apply(s *State) {
	p := s.Packs[e.Pack]
	p.Entry, p.Aside, p.Hurt = "", p.Aside || e.Hurt, p.Hurt || e.Hurt
	s.setPack(p)
}
