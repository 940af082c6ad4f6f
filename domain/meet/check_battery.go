package meet

import (
	"benchmeet/domain/fairness"
	"benchmeet/domain/refusal"
)

// CheckBattery takes what was measured of a pack at the battery table and says
// whether it may race. A pack that nobody knew is from then on the entry's own.
type CheckBattery struct {
	Pack PackID
	// Entry is whose pack it is; empty for a lent one at the table, whose Division
	// says by which class it is judged.
	Entry    EntryID
	Division DivisionID
	// Reading is what was measured; its instant is the server's.
	Reading fairness.Reading
	// Loads are none, or two load points that the resistance is computed from.
	Loads []fairness.LoadPoint
	// Instrument is what it was measured with, at most 40 characters.
	Instrument string
}

// BatteryChecked says what was measured of a pack, and whether it may race.
type BatteryChecked struct {
	Pack     PackID     `json:"pack"`
	Division DivisionID `json:"division"`
	PackCheck
	// Aside says that the pack was put aside.
	Aside bool `json:"aside,omitempty"`
}

func (c CheckBattery) decide(s *State, m Meta) ([]Event, error) {
	if err := CheckID("pack", string(c.Pack)); err != nil {
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
	case len(c.Instrument) > MostInstrument:
		return nil, refusal.New("instrument", "most", MostInstrument)
	case p.Aside:
		return nil, refusal.New("pack-aside")
	case !known && c.Entry == "":
		return nil, refusal.New("no-pack", "pack", c.Pack)
	case known && !p.Lent && c.Entry == "":
		return nil, refusal.New("pack-whose", "pack", c.Pack)
	case p.Lent && p.Entry != "" && c.Entry != "" && p.Entry != c.Entry:
		return nil, refusal.New("pack-out", "pack", c.Pack, "number", s.Number(p.Entry))
	}
	check := PackCheck{Reading: c.Reading, Entry: c.Entry, Loads: c.Loads, Instrument: c.Instrument, By: m.Actor}
	check.AtUS = m.NowUS
	if err := check.Measure(); err != nil {
		return nil, err
	}
	check.Refused = Grounds(Windows(s, division).Judge(check.Reading))
	e := BatteryChecked{Pack: c.Pack, Division: division, PackCheck: check, Aside: check.Hurt}
	if b := d.Class.Battery; b != nil && b.AsideAfter > 0 && len(check.Refused) > 0 && p.RefusedInRow()+1 >= b.AsideAfter {
		e.Aside = true
	}
	return []Event{e}, nil
}

// Measure computes the resistance where two loads were measured, and refuses a
// reading that cannot be. Of a hurt pack nothing is kept but that it is: nobody
// measures it again.
func (c *PackCheck) Measure() error {
	if c.Hurt {
		c.LoadMV, c.ResistanceMOhm, c.TemperatureMC, c.OpenMV, c.Loads = nil, nil, nil, 0, nil
		return nil
	}
	switch len(c.Loads) {
	case 0:
	case 2:
		r, err := fairness.TwoLoads(c.Loads[0], c.Loads[1])
		if err != nil {
			return err
		}
		c.ResistanceMOhm, c.UMOhm, c.EMFMV = &r.MOhm, r.UMOhm, r.EMFMV
	default:
		return refusal.New("two-loads", "least", fairness.LeastLoadStep)
	}
	return c.Check()
}

// Type is the name in the log.
func (BatteryChecked) Type() string { return "BatteryChecked" }

func (e BatteryChecked) apply(s *State) {
	p := s.Packs[e.Pack]
	p.ID = e.Pack
	if !p.Lent && e.Entry != "" {
		p.Entry = e.Entry
	}
	p.Checks = append(p.Checks[:len(p.Checks):len(p.Checks)], e.PackCheck)
	p.Aside, p.Hurt = p.Aside || e.Aside, p.Hurt || e.Hurt
	s.setPack(p)
}
