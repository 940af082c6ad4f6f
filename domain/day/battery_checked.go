package day

import (
	"benchmeet/domain/battery"
	"benchmeet/domain/refusal"
)

// BatteryChecked says what was measured of a pack, and whether it may race.
type BatteryChecked struct {
	Pack     PackID     `json:"pack"`
	Division DivisionID `json:"division"`
	PackCheck
	// Aside says that the pack was put aside.
	Aside bool `json:"aside,omitempty"`
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
		r, err := battery.TwoLoads(c.Loads[0], c.Loads[1])
		if err != nil {
			return err
		}
		c.ResistanceMOhm, c.UMOhm, c.EMFMV = &r.MOhm, r.UMOhm, r.EMFMV
	default:
		return refusal.New("two-loads", "least", battery.LeastLoadStep)
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
