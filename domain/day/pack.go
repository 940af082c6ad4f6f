package day

import "benchmeet/domain/battery"

// PackID is the number or name that is written on a battery pack.
type PackID string

// Pack is a battery pack of the day with its history.
type Pack struct {
	ID PackID `json:"id"`
	// Lent is a pack of the club, which is issued and comes back.
	Lent bool `json:"lent,omitempty"`
	// Entry has the pack: brought it, or has it on loan. Empty is the table.
	Entry EntryID `json:"entry,omitempty"`
	// Checks and Runs are in the order in which they came.
	Checks []PackCheck `json:"checks,omitempty"`
	Runs   []packRun   `json:"runs,omitempty"`
	// Aside is a pack that does not race again today.
	Aside bool `json:"aside,omitempty"`
	// FreshFrom is the first check that counts: earlier ones were before the pack was
	// put back.
	FreshFrom int `json:"fresh_from,omitempty"`
	// Hurt is one that was hot, swollen, leaking or damaged.
	Hurt bool `json:"hurt,omitempty"`
}

// PackCheck is one check of a pack at the battery table.
type PackCheck struct {
	battery.Reading
	Entry EntryID `json:"entry,omitempty"`
	// Loads are the two load points that the resistance was computed from, with its
	// standard uncertainty in mΩ and the voltage at no current in mV.
	Loads []battery.LoadPoint `json:"loads,omitempty"`
	UMOhm int64               `json:"u_mohm,omitempty"`
	EMFMV int64               `json:"emf_mv,omitempty"`
	// Instrument is what it was measured with.
	Instrument string `json:"instrument,omitempty"`
	// Refused says why it may not race; empty is accepted.
	Refused []Ground `json:"refused,omitempty"`
	By      string   `json:"by"`
}

// packRun is a race on a pack, in µs since 1970, from the start to the end of the
// race.
type packRun struct {
	Heat   HeatID `json:"heat"`
	Run    RunID  `json:"run"`
	FromUS int64  `json:"from_us"`
	ToUS   int64  `json:"to_us"`
}

// RefusedInRow counts the refusals since the last check that was accepted.
func (p Pack) RefusedInRow() int {
	n := 0
	for i := len(p.Checks) - 1; i >= p.FreshFrom && len(p.Checks[i].Refused) > 0; i-- {
		n++
	}
	return n
}

// Last is the last check that counts; false where there is none.
func (p Pack) Last() (PackCheck, bool) {
	if len(p.Checks) == p.FreshFrom {
		return PackCheck{}, false
	}
	return p.Checks[len(p.Checks)-1], true
}

// Figures are what packs are matched by; false where no two loads were measured.
func (p Pack) Figures() (battery.PackFigures, bool) {
	last, checked := p.Last()
	if !checked || len(last.Loads) == 0 || last.ResistanceMOhm == nil {
		return battery.PackFigures{}, false
	}
	return battery.PackFigures{ID: string(p.ID), EMFMV: last.EMFMV, MOhm: *last.ResistanceMOhm}, true
}
