package meet

import (
	"cmp"
	"maps"
	"slices"

	"benchmeet/domain/fairness"
	"benchmeet/domain/refusal"
)

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
	Runs   []PackRun   `json:"runs,omitempty"`
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
	fairness.Reading
	Entry EntryID `json:"entry,omitempty"`
	// Loads are the two load points that the resistance was computed from, with its
	// standard uncertainty in mΩ and the voltage at no current in mV.
	Loads []fairness.LoadPoint `json:"loads,omitempty"`
	UMOhm int64                `json:"u_mohm,omitempty"`
	EMFMV int64                `json:"emf_mv,omitempty"`
	// Instrument is what it was measured with.
	Instrument string `json:"instrument,omitempty"`
	// Refused says why it may not race; empty is accepted.
	Refused []Ground `json:"refused,omitempty"`
	By      string   `json:"by"`
}

// PackRun is a race on a pack, in µs since 1970, from the start to the end of the
// race.
type PackRun struct {
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

// Judged is a pack as the rules of package fairness see it at an instant. A race
// that goes on counts up to now.
func Judged(s *State, p Pack, nowUS int64) fairness.Pack {
	out := fairness.Pack{ID: string(p.ID), Lent: p.Lent, With: s.Number(p.Entry), Aside: p.Aside}
	for _, c := range p.Checks[p.FreshFrom:] {
		out.Checks = append(out.Checks, c.Reading)
	}
	for _, r := range p.Runs {
		out.Runs = append(out.Runs, fairness.PackRun{FromUS: min(r.FromUS, nowUS), ToUS: min(r.ToUS, nowUS)})
	}
	return out
}

// Figures are what packs are matched by; false where no two loads were measured.
func (p Pack) Figures() (fairness.PackFigures, bool) {
	last, checked := p.Last()
	if !checked || len(last.Loads) == 0 || last.ResistanceMOhm == nil {
		return fairness.PackFigures{}, false
	}
	return fairness.PackFigures{ID: string(p.ID), EMFMV: last.EMFMV, MOhm: *last.ResistanceMOhm}, true
}

// SortedPacks are the packs in the order of their numbers, as a shelf has them.
func SortedPacks(s *State) []Pack {
	return slices.SortedFunc(maps.Values(s.Packs), func(a, b Pack) int {
		return cmp.Or(cmp.Compare(len(a.ID), len(b.ID)), cmp.Compare(a.ID, b.ID))
	})
}

// MissingPacks are the lent packs that are still out.
func MissingPacks(s *State) []Pack {
	var all []fairness.Pack
	for _, p := range SortedPacks(s) {
		all = append(all, Judged(s, p, 0))
	}
	var out []Pack
	for _, p := range fairness.Missing(all) {
		out = append(out, s.Packs[PackID(p.ID)])
	}
	return out
}

// PackReady says why a pack may not race in a division at an instant; none means
// that it may. A pause of the meet and the lapse of a check ask for a new one.
func PackReady(s *State, p Pack, division DivisionID, nowUS int64) []*refusal.Refusal {
	return Windows(s, division).Ready(Judged(s, p, nowUS), nowUS, s.BatteriesSinceUS)
}

// PackValidUS is until when the last check of a pack counts in a division, in µs
// since 1970; 0 is for the whole day, or that none counts.
func PackValidUS(s *State, p Pack, division DivisionID) int64 {
	last, checked := p.Last()
	w, taken := Windows(s, division).For(last.Chemistry)
	if !checked || !taken || w.ValidUS == 0 || len(last.Refused) > 0 || last.AtUS < s.BatteriesSinceUS {
		return 0
	}
	return last.AtUS + w.ValidUS
}

// PackOf is the pack that an entry would race with now: a lent one before its
// own, one that may race before one that may not, the one checked last.
func PackOf(s *State, entry EntryID, nowUS int64) (Pack, bool) {
	var all []Pack
	for _, p := range s.Packs {
		if p.Entry == entry {
			all = append(all, p)
		}
	}
	if len(all) == 0 {
		return Pack{}, false
	}
	division := s.Entries[entry].Division
	rank := func(p Pack) int {
		switch {
		case p.Aside:
			return 3
		case p.Lent:
			return 0
		case len(PackReady(s, p, division, nowUS)) == 0:
			return 1
		}
		return 2
	}
	return slices.MinFunc(all, func(a, b Pack) int {
		la, _ := a.Last()
		lb, _ := b.Last()
		return cmp.Or(cmp.Compare(rank(a), rank(b)), cmp.Compare(lb.AtUS, la.AtUS), cmp.Compare(a.ID, b.ID))
	}), true
}

// PackFor is the pack that a lane is to race with: the one that was read at the
// bench, else the one dealt for the heat, else the entry's own.
func PackFor(s *State, l Lane, nowUS int64) (Pack, bool) {
	for _, id := range []PackID{l.Pack, l.Dealt} {
		if p, there := s.Packs[id]; there {
			return p, true
		}
	}
	return PackOf(s, l.Entry, nowUS)
}

func FindPack(s *State, id PackID) (Pack, error) {
	p, there := s.Packs[id]
	if !there {
		return p, refusal.New("no-pack", "pack", id)
	}
	return p, nil
}

// setPack puts a pack in its place.
func (s *State) setPack(p Pack) { s.Packs[p.ID] = p }
