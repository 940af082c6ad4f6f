package wire

import (
	"benchmeet/api/gen"
	"benchmeet/domain/day"
	"benchmeet/domain/meet"
)

// ShowEntry shows an entry as officials see it, without the names behind it.
func ShowEntry(e day.Entry) gen.Entry {
	return gen.Entry{
		Id: string(e.ID), Division: string(e.Division), StartNumber: e.StartNumber, Entrant: Opt(string(e.Entrant)),
		Edition: Opt(e.Edition()),
		Car:     string(e.Car), Club: Opt(e.Team), Band: Opt(string(e.Band)),
		CheckedIn: e.CheckedIn, RacesUp: e.RacesUp, Late: e.Late, Withdrawn: e.Withdrawn,
		Disqualified: e.Disqualified, Reruns: e.Reruns,
	}
}

// ReadEntry reads an entry. What may be left out (the id, the car, and the entrant
// of somebody new) is for the server to name, and the age for it to find.
func ReadEntry(b gen.TakeEntry) meet.TakeEntry {
	return meet.TakeEntry{
		ID: day.EntryID(Deref(b.Id)), Division: day.DivisionID(b.Division), StartNumber: b.StartNumber,
		Entrant: day.EntrantID(Deref(b.Entrant)), Car: day.CarID(Deref(b.Car)), Team: Deref(b.Club),
	}
}

// ReadEntryChange reads what an entry is to be; the age is for the server to find.
func ReadEntryChange(id string, b gen.ChangeEntry) meet.ChangeEntry {
	return meet.ChangeEntry{
		ID: day.EntryID(id), Division: day.DivisionID(b.Division), StartNumber: b.StartNumber, Car: day.CarID(b.Car), Team: b.Club,
	}
}
