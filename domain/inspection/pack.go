package inspection

import (
	"cmp"
	"maps"
	"slices"

	"benchmeet/domain/battery"
	"benchmeet/domain/day"
	"benchmeet/domain/refusal"
)

// Judged is a pack as the rules of package fairness see it at an instant. A race
// that goes on counts up to now.
func Judged(s *day.State, p day.Pack, nowUS int64) battery.Pack {
	out := battery.Pack{ID: string(p.ID), Lent: p.Lent, With: s.Number(p.Entry), Aside: p.Aside}
	for _, c := range p.Checks[p.FreshFrom:] {
		out.Checks = append(out.Checks, c.Reading)
	}
	for _, r := range p.Runs {
		out.Runs = append(out.Runs, battery.PackRun{FromUS: min(r.FromUS, nowUS), ToUS: min(r.ToUS, nowUS)})
	}
	return out
}

// SortedPacks are the packs in the order of their numbers, as a shelf has them.
func SortedPacks(s *day.State) []day.Pack {
	return slices.SortedFunc(maps.Values(s.Packs), func(a, b day.Pack) int {
		return cmp.Or(cmp.Compare(len(a.ID), len(b.ID)), cmp.Compare(a.ID, b.ID))
	})
}

// MissingPacks are the lent packs that are still out.
func MissingPacks(s *day.State) []day.Pack {
	var all []battery.Pack
	for _, p := range SortedPacks(s) {
		all = append(all, Judged(s, p, 0))
	}
	var out []day.Pack
	for _, p := range battery.Missing(all) {
		out = append(out, s.Packs[day.PackID(p.ID)])
	}
	return out
}

// PackReady says why a pack may not race in a division at an instant; none means
// that it may. A pause of the meet and the lapse of a check ask for a new one.
func PackReady(s *day.State, p day.Pack, division day.DivisionID, nowUS int64) []*refusal.Refusal {
	return Windows(s, division).Ready(Judged(s, p, nowUS), nowUS, s.BatteriesSinceUS)
}

// PackValidUS is until when the last check of a pack counts in a division, in µs
// since 1970; 0 is for the whole day, or that none counts.
func PackValidUS(s *day.State, p day.Pack, division day.DivisionID) int64 {
	last, checked := p.Last()
	w, taken := Windows(s, division).For(last.Chemistry)
	if !checked || !taken || w.ValidUS == 0 || len(last.Refused) > 0 || last.AtUS < s.BatteriesSinceUS {
		return 0
	}
	return last.AtUS + w.ValidUS
}

// PackOf is the pack that an entry would race with now: a lent one before its
// own, one that may race before one that may not, the one checked last.
func PackOf(s *day.State, entry day.EntryID, nowUS int64) (day.Pack, bool) {
	var all []day.Pack
	for _, p := range s.Packs {
		if p.Entry == entry {
			all = append(all, p)
		}
	}
	if len(all) == 0 {
		return day.Pack{}, false
	}
	division := s.Entries[entry].Division
	rank := func(p day.Pack) int {
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
	return slices.MinFunc(all, func(a, b day.Pack) int {
		la, _ := a.Last()
		lb, _ := b.Last()
		return cmp.Or(cmp.Compare(rank(a), rank(b)), cmp.Compare(lb.AtUS, la.AtUS), cmp.Compare(a.ID, b.ID))
	}), true
}

// PackFor is the pack that a lane is to race with: the one that was read at the
// bench, else the one dealt for the heat, else the entry's own.
func PackFor(s *day.State, l day.Lane, nowUS int64) (day.Pack, bool) {
	for _, id := range []day.PackID{l.Pack, l.Dealt} {
		if p, there := s.Packs[id]; there {
			return p, true
		}
	}
	return PackOf(s, l.Entry, nowUS)
}

// FindPack finds a battery pack of the day, or refuses.
func FindPack(s *day.State, id day.PackID) (day.Pack, error) {
	p, there := s.Packs[id]
	if !there {
		return p, refusal.New("no-pack", "pack", id)
	}
	return p, nil
}
