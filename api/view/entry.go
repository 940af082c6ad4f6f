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
		out.Entries = append(out.Entries, shownEntry(v, e, official))
	}
	return out
}

// Entry is an entry as everybody may see it.
func (v MeetView) Entry(e day.Entry) gen.Entry { return shownEntry(v, e, false) }

func shownEntry(v MeetView, e day.Entry, official bool) gen.Entry {
	out := wire.ShowEntry(e)
	out.DisplayName = v.Racer(e.ID).DisplayName
	if !official {
		out.Entrant, out.Edition = nil, nil
		return out
	}
	if p, there := v.Names.Person(string(e.Entrant)); there {
		out.Name, out.SayAs = wire.Opt(p.Name), wire.Opt(p.SayAs)
		if age, known := v.State.Plan.AgeOf(p.BirthDate); known {
			out.Age = &age
			if mark := v.State.Divisions[e.Home()].AgeMark(age, e.RacesUp); mark != "" {
				out.AgeMark = wire.Opt(gen.EntryAgeMark(mark))
			}
		}
	}
	return out
}

// OfficialEntry is one entry as officials see it.
func OfficialEntry(v MeetView, id day.EntryID) gen.Entry {
	return shownEntry(v, v.State.Entries[id], true)
}
