package view

import (
	"cmp"
	"maps"
	"slices"

	"benchmeet/api/gen"
	"benchmeet/api/wire"
	"benchmeet/domain/day"
)

// Away is what was put away of the meet, for organisers alone.
func Away(v MeetView) gen.PutAway {
	away := v.State.Away
	out := gen.PutAway{Seq: v.Head.Seq, Meet: away.Meet, Divisions: []gen.DivisionAway{}, Entries: []gen.Entry{}}
	for _, id := range slices.Sorted(maps.Keys(away.Divisions)) {
		d := away.Divisions[id]
		out.Divisions = append(out.Divisions, gen.DivisionAway{Id: string(id), Name: d.Division.Name, Entries: len(d.Entries)})
	}
	alone := slices.SortedFunc(maps.Values(away.Entries), func(a, b day.Entry) int {
		return cmp.Or(cmp.Compare(a.StartNumber, b.StartNumber), cmp.Compare(a.ID, b.ID))
	})
	for _, e := range alone {
		shown := shownEntry(v, e, true)
		shown.DisplayName = wire.Opt(v.Names.Display(string(e.Entrant)))
		out.Entries = append(out.Entries, shown)
	}
	return out
}
