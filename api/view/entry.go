package view

import (
	"benchmeet/api/gen"
	"benchmeet/api/wire"
	"benchmeet/domain/day"
)

// Entries are all entries; with names where the caller is an official.
func (v MeetView) Entries(official bool) gen.EntryList {
	out := gen.EntryList{Seq: v.Head.Seq, Entries: []gen.Entry{}}
	for _, e := range v.State.SortedEntries("") {
		out.Entries = append(out.Entries, v.entry(e, official))
	}
	return out
}

func (v MeetView) entry(e day.Entry, official bool) gen.Entry {
	out := gen.Entry{
		Id: string(e.ID), Division: string(e.Division), StartNumber: e.StartNumber, Car: string(e.Car), Club: wire.Opt(e.Team), Band: wire.Opt(string(e.Band)),
		DisplayName: v.Racer(e.ID).DisplayName,
		CheckedIn:   e.CheckedIn, RacesUp: e.RacesUp, Late: e.Late, Withdrawn: e.Withdrawn,
		Disqualified: e.Disqualified, Reruns: e.Reruns,
	}
	if official {
		out.Entrant = wire.Opt(string(e.Entrant))
		if p, there := v.Names.Person(string(e.Entrant)); there {
			out.Name, out.SayAs = wire.Opt(p.Name), wire.Opt(p.SayAs)
		}
	}
	return out
}
