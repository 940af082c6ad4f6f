package wire

import (
	"benchmeet/api/gen"
	"benchmeet/api/store"
	"benchmeet/domain/club"
)

// ShowPerson shows a person as officials see them.
func ShowPerson(p store.Person) gen.Person {
	return gen.Person{
		Id: p.ID, Name: p.Name, DisplayName: p.DisplayName, SayAs: Opt(p.SayAs), BirthDate: Opt(p.BirthDate),
		OnScreen: p.OnScreen, InResults: p.InResults, Photo: p.Photo,
	}
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
