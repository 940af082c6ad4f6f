package rest

import (
	"context"

	"benchmeet/api/gen"
	"benchmeet/api/store"
	"benchmeet/domain/club"
	"benchmeet/domain/meet"
)

// ListPeople lists the people of the club, for officials.
func (s *Server) ListPeople(ctx context.Context, _ gen.ListPeopleRequestObject) (gen.ListPeopleResponseObject, error) {
	all, err := s.Store.AllPeople(ctx, s.club(ctx))
	if err != nil {
		return nil, err
	}
	out := gen.ListPeople200JSONResponse{People: []gen.Person{}}
	for _, p := range all {
		shown := gen.Person{
			Id: p.ID, Name: p.Name, DisplayName: p.DisplayName,
			OnScreen: p.OnScreen, InResults: p.InResults, Photo: p.Photo,
		}
		if p.SayAs != "" {
			shown.SayAs = &p.SayAs
		}
		if p.BirthDate != "" {
			shown.BirthDate = &p.BirthDate
		}
		out.People = append(out.People, shown)
	}
	return out, nil
}

// PutPerson writes a person down.
func (s *Server) PutPerson(ctx context.Context, r gen.PutPersonRequestObject) (gen.PutPersonResponseObject, error) {
	o := order{key: r.Params.IdempotencyKey, thing: r.Person, people: []store.Person{person(r.Person, *r.Body)}}
	receipt, err := s.clubOrder(ctx, o, club.KeepPerson{Person: meet.EntrantID(r.Person)})
	return gen.PutPerson200JSONResponse{ReceiptJSONResponse: receipt}, err
}

// ErasePerson erases a person for good. The log notes it first, so that a server
// that stops in between erases when it starts again.
func (s *Server) ErasePerson(ctx context.Context, r gen.ErasePersonRequestObject) (gen.ErasePersonResponseObject, error) {
	o := order{key: r.Params.IdempotencyKey, thing: r.Person}
	receipt, err := s.clubOrder(ctx, o, club.ErasePerson{Person: meet.EntrantID(r.Person)})
	if err != nil {
		return nil, err
	}
	if err := s.Store.Erase(ctx, s.club(ctx), r.Person, s.Now().UnixMicro()); err != nil {
		return nil, err
	}
	s.forgetNames(ctx)
	return gen.ErasePerson200JSONResponse{ReceiptJSONResponse: receipt}, nil
}

func person(id string, b gen.PersonBody) store.Person {
	return store.Person{
		ID: id, Name: b.Name, DisplayName: b.DisplayName, SayAs: deref(b.SayAs), BirthDate: deref(b.BirthDate),
		OnScreen: b.OnScreen, InResults: b.InResults, Photo: b.Photo,
	}
}

// forgetNames makes reads and screens see the people as they are now.
func (s *Server) forgetNames(ctx context.Context) {
	s.Names.Forget(s.club(ctx))
	s.NamesChanged(s.club(ctx))
}
