package rest

import (
	"context"
	"errors"

	"benchmeet/api/ledger"
	"benchmeet/api/store"
	"benchmeet/api/wire"
	"benchmeet/domain/club"
	"benchmeet/domain/day"
)

// keepPerson is the order that writes somebody down. was is the person's row before; a
// zero one is that of nobody.
func keepPerson(p, was store.Person) club.KeepPerson {
	c := club.KeepPerson{Person: day.EntrantID(p.ID), Consents: wire.ConsentsOf(p)}
	if was.ID != "" {
		c.Was = wire.ConsentsOf(was)
	}
	return c
}

// personNow is a person's row, a zero one where there is none.
func (s people) personNow(ctx context.Context, id string) (store.Person, error) {
	p, err := s.kept.Person(ctx, s.club(ctx), id)
	if errors.Is(err, store.ErrNotFound) {
		return store.Person{}, nil
	}
	return p, err
}

// withoutConsents are people as they are entered in a meet: with the consents that they
// had. Those that come with the entry are written down by noteConsents, because they
// hold for all meets and the club's log notes who changed them; a meet's log is public.
func withoutConsents(people []store.Person, was func(id string) store.Person) []store.Person {
	out := make([]store.Person, 0, len(people))
	for _, p := range people {
		before := was(p.ID)
		p.OnScreen, p.InResults, p.Photo = before.OnScreen, before.InResults, before.Photo
		out = append(out, p)
	}
	return out
}

// noteConsents writes the consents down that came with an order of a meet which was
// carried out. It has the id of that order, so whoever sends the order again, because the
// server ended in between, gets both done and each once. Until then nobody agreed.
func (s orders) noteConsents(ctx context.Context, o order, people []store.Person, was func(id string) store.Person) error {
	if len(people) == 0 {
		return nil
	}
	var c club.KeepPeople
	for _, p := range people {
		c.People = append(c.People, keepPerson(p, was(p.ID)))
	}
	_, err := s.clubs.Do(ctx, store.ClubStream(s.club(ctx)), ledger.Order[club.Command]{
		ID: o.key.String(), Content: content(ctx), Actor: Caller(ctx).Actor, Command: c, People: people,
	})
	if err == nil {
		s.forgetNames(ctx)
	}
	return err
}
