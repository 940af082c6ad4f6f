package wire

import (
	"slices"

	"benchmeet/api/gen"
	"benchmeet/api/store"
	"benchmeet/domain/club"
)

// ShowPerson shows a person as officials see them, with what changed of the consents,
// oldest first.
func ShowPerson(p store.Person, changes []club.ConsentChange) gen.Person {
	return gen.Person{
		Id: p.ID, Name: p.Name, DisplayName: p.DisplayName, SayAs: Opt(p.SayAs), BirthDate: Opt(p.BirthDate),
		OnScreen: p.OnScreen, InResults: p.InResults, Photo: p.Photo,
		ConsentChanges: showConsents(changes),
	}
}

// showConsents shows the newest first; nil where there are none.
func showConsents(changes []club.ConsentChange) *[]gen.ConsentChange {
	if len(changes) == 0 {
		return nil
	}
	out := make([]gen.ConsentChange, 0, len(changes))
	for _, c := range slices.Backward(changes) {
		out = append(out, gen.ConsentChange{At: Instant(c.AtUS), By: c.By, OnScreen: c.OnScreen, InResults: c.InResults, Photo: c.Photo})
	}
	return &out
}

// ReadPerson reads a person.
func ReadPerson(id string, b gen.PersonBody) store.Person {
	return store.Person{
		ID: id, Name: b.Name, DisplayName: b.DisplayName, SayAs: Deref(b.SayAs), BirthDate: Deref(b.BirthDate),
		OnScreen: b.OnScreen, InResults: b.InResults, Photo: b.Photo,
	}
}

// Written is what of a person is looked at before it is kept.
func Written(p store.Person) club.Written {
	return club.Written{Name: p.Name, DisplayName: p.DisplayName, SayAs: p.SayAs, Born: p.BirthDate}
}

// ConsentsOf are the consents of a person's row.
func ConsentsOf(p store.Person) *club.Consents {
	return &club.Consents{OnScreen: p.OnScreen, InResults: p.InResults, Photo: p.Photo}
}
