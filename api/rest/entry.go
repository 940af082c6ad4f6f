package rest

import (
	"cmp"
	"context"

	"benchmeet/api/gen"
	"benchmeet/api/store"
	"benchmeet/api/view"
	"benchmeet/api/wire"
	"benchmeet/domain/club"
	"benchmeet/domain/day"
	"benchmeet/domain/meet"
	"benchmeet/domain/refusal"
)

// entries takes entries.
type entries struct{ orders }

// ListEntries lists the entries; with names and ages for those who check in and rule.
func (s entries) ListEntries(ctx context.Context, r gen.ListEntriesRequestObject) (gen.ListEntriesResponseObject, error) {
	if Caller(ctx).May(both...) {
		return s.show(ctx, r.Meet, r.Params.AtLeast, "entries/official")
	}
	return s.show(ctx, r.Meet, r.Params.AtLeast, "entries")
}

// GetCarDay shows the day of one car.
func (s entries) GetCarDay(ctx context.Context, r gen.GetCarDayRequestObject) (gen.GetCarDayResponseObject, error) {
	return s.show(ctx, r.Meet, r.Params.AtLeast, "car/"+r.Entry)
}

// TakeEntry enters a person with a car: somebody known, or somebody new who is
// written down with the entry.
func (s entries) TakeEntry(ctx context.Context, r gen.TakeEntryRequestObject) (gen.TakeEntryResponseObject, error) {
	b, key := r.Body, r.Params.IdempotencyKey
	if (b.Entrant == nil) == (b.Person == nil) {
		return nil, refusal.New("entrant-or-person")
	}
	c := wire.ReadEntry(*b)
	c.ID = cmp.Or(c.ID, day.EntryID(madeID("e-", key)))
	c.Entrant = cmp.Or(c.Entrant, day.EntrantID(madeID("p-", key)))
	c.Car = cmp.Or(c.Car, day.CarID(madeID("c-", key)))
	o := order{key: key, thing: string(c.ID), refuse: s.raceWith(ctx, c.Car)}
	birth, err := s.birth(ctx, b, c.Entrant)
	if err != nil {
		return nil, err
	}
	var written []store.Person
	nobody := func(string) store.Person { return store.Person{} }
	if b.Person != nil {
		p := wire.ReadPerson(string(c.Entrant), *b.Person)
		written = []store.Person{p}
		if o.refuse == nil {
			o.refuse = wire.Written(p).Check(club.AnyDay)
		}
		o.people = withoutConsents(written, nobody)
	}
	v, err := s.meetNow(ctx, r.Meet)
	if err != nil {
		return nil, err
	}
	if c.Age, err = ageAt(v.State.Plan, birth); err != nil {
		return nil, err
	}
	receipt, err := s.meetOrder(ctx, r.Meet, o, c)
	if err == nil {
		err = s.noteConsents(ctx, o, written, nobody)
	}
	return gen.TakeEntry201JSONResponse{ReceiptJSONResponse: receipt}, err
}

func (s entries) birth(ctx context.Context, b *gen.TakeEntry, entrant day.EntrantID) (string, error) {
	if b.Person != nil {
		return wire.Deref(b.Person.BirthDate), nil
	}
	return s.birthOf(ctx, entrant)
}

func (s entries) birthOf(ctx context.Context, entrant day.EntrantID) (string, error) {
	names, err := s.names.Names(ctx, s.club(ctx))
	if err != nil {
		return "", err
	}
	p, _ := names.Person(string(entrant))
	return p.BirthDate, nil
}

// ageAt is the age at a meet's age date, -1 where the birth date is not known.
func ageAt(plan day.Plan, birth string) (int, error) {
	if birth == "" {
		return -1, nil
	}
	age, known := plan.AgeOf(birth)
	if !known {
		return -1, refusal.New("birth-date", "date", birth)
	}
	return age, nil
}

// ChangeEntry puts an entry right before the draw.
func (s entries) ChangeEntry(ctx context.Context, r gen.ChangeEntryRequestObject) (gen.ChangeEntryResponseObject, error) {
	v, err := s.meetNow(ctx, r.Meet)
	if err != nil {
		return nil, err
	}
	birth, err := s.birthOf(ctx, v.State.Entries[day.EntryID(r.Entry)].Entrant)
	if err != nil {
		return nil, err
	}
	age, err := ageAt(v.State.Plan, birth)
	if err != nil {
		return nil, err
	}
	c := wire.ReadEntryChange(r.Entry, *r.Body)
	c.Age, c.Edition = age, wire.Deref(r.Params.Edition)
	o := order{key: r.Params.IdempotencyKey, refuse: s.raceWith(ctx, c.Car)}
	receipt, err := s.meetOrder(ctx, r.Meet, o, c)
	err = s.savedSince(ctx, err, store.MeetStream(s.club(ctx), r.Meet), r.Entry, []string{"EntryTaken", "EntryChanged"}, func() (any, error) {
		now, err := s.meetView(ctx, r.Meet, nil)
		return view.OfficialEntry(now, day.EntryID(r.Entry)), err
	})
	return gen.ChangeEntry200JSONResponse{ReceiptJSONResponse: receipt}, err
}

// CheckIn notes that entrant and car are there.
func (s entries) CheckIn(ctx context.Context, r gen.CheckInRequestObject) (gen.CheckInResponseObject, error) {
	receipt, err := s.meetOrder(ctx, r.Meet, order{key: r.Params.IdempotencyKey}, meet.CheckIn{
		Entry: day.EntryID(r.Entry), There: r.Body.There,
	})
	return gen.CheckIn200JSONResponse{ReceiptJSONResponse: receipt}, err
}
