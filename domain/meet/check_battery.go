package meet

import (
	"benchmeet/domain/battery"
	"benchmeet/domain/day"
	"benchmeet/domain/inspection"
	"benchmeet/domain/refusal"
)

// CheckBattery takes what was measured of a pack at the battery table and says
// whether it may race. A pack that nobody knew is from then on the entry's own.
type CheckBattery struct {
	Pack day.PackID
	// Entry is whose pack it is; empty for a lent one at the table, whose Division
	// says by which class it is judged.
	Entry    day.EntryID
	Division day.DivisionID
	// Reading is what was measured; its instant is the server's.
	Reading battery.Reading
	// Loads are none, or two load points that the resistance is computed from.
	Loads []battery.LoadPoint
	// Instrument is what it was measured with, at most 40 characters.
	Instrument string
}

func (c CheckBattery) decide(s *day.State, m Meta) ([]day.Event, error) {
	if err := day.CheckID("pack", string(c.Pack)); err != nil {
		return nil, err
	}
	division := c.Division
	if c.Entry != "" {
		e, err := s.Entry(c.Entry)
		if err != nil {
			return nil, err
		}
		division = e.Division
	}
	d, err := s.Division(division)
	if err != nil {
		return nil, err
	}
	p, known := s.Packs[c.Pack]
	switch {
	case len(c.Instrument) > day.MostInstrument:
		return nil, refusal.New("instrument", "most", day.MostInstrument)
	case p.Aside:
		return nil, refusal.New("pack-aside")
	case !known && c.Entry == "":
		return nil, refusal.New("no-pack", "pack", c.Pack)
	case known && !p.Lent && c.Entry == "":
		return nil, refusal.New("pack-whose", "pack", c.Pack)
	case p.Lent && p.Entry != "" && c.Entry != "" && p.Entry != c.Entry:
		return nil, refusal.New("pack-out", "pack", c.Pack, "number", s.Number(p.Entry))
	}
	check := day.PackCheck{Reading: c.Reading, Entry: c.Entry, Loads: c.Loads, Instrument: c.Instrument, By: m.Actor}
	check.AtUS = m.NowUS
	if err := check.Measure(); err != nil {
		return nil, err
	}
	check.Refused = day.Grounds(inspection.Windows(s, division).Judge(check.Reading))
	e := day.BatteryChecked{Pack: c.Pack, Division: division, PackCheck: check, Aside: check.Hurt}
	if b := d.Class.Battery; b != nil && b.AsideAfter > 0 && len(check.Refused) > 0 && p.RefusedInRow()+1 >= b.AsideAfter {
		e.Aside = true
	}
	return []day.Event{e}, nil
}
