package rest

import (
	"context"
	"errors"
	"log/slog"
	"slices"
	"time"

	"benchmeet/api/erasure"
	"benchmeet/api/gen"
	"benchmeet/api/store"
	"benchmeet/api/wire"
	"benchmeet/domain/club"
	"benchmeet/domain/day"
	"benchmeet/domain/refusal"
)

// people writes people down and erases them.
type people struct {
	orders
	kept     store.People
	erasures *erasure.Eraser
	log      *slog.Logger
}

// ListPeople lists the people of the club, for officials.
func (s people) ListPeople(ctx context.Context, _ gen.ListPeopleRequestObject) (gen.ListPeopleResponseObject, error) {
	all, err := s.kept.AllPeople(ctx, s.club(ctx))
	if err != nil {
		return nil, err
	}
	state, err := s.clubState(ctx)
	if err != nil {
		return nil, err
	}
	out := gen.ListPeople200JSONResponse{People: []gen.Person{}}
	for _, p := range all {
		out.People = append(out.People, wire.ShowPerson(p, state.ConsentsOf(day.EntrantID(p.ID))))
	}
	return out, nil
}

// PutPerson writes a person down.
func (s people) PutPerson(ctx context.Context, r gen.PutPersonRequestObject) (gen.PutPersonResponseObject, error) {
	p := wire.ReadPerson(r.Person, *r.Body)
	was, err := s.personNow(ctx, r.Person)
	if err != nil {
		return nil, err
	}
	written, c := wire.Written(p), keepPerson(p, was)
	c.Written = &written
	o := order{key: r.Params.IdempotencyKey, thing: r.Person, people: []store.Person{p}}
	receipt, err := s.clubOrder(ctx, o, c)
	return gen.PutPerson200JSONResponse{ReceiptJSONResponse: receipt}, err
}

// ErasePerson erases a person for good. Once the log notes it, it is finished whether
// the caller stays or not: here, or by the sweep of any server of the database.
func (s people) ErasePerson(ctx context.Context, r gen.ErasePersonRequestObject) (gen.ErasePersonResponseObject, error) {
	o := order{key: r.Params.IdempotencyKey, thing: r.Person}
	known, err := s.known(ctx, r.Person)
	if err != nil {
		return nil, err
	}
	if !known {
		o.refuse = refusal.New("no-person", "person", r.Person)
	}
	receipt, err := s.erase(ctx, o, club.ErasePerson{Person: day.EntrantID(r.Person)})
	return gen.ErasePerson200JSONResponse{ReceiptJSONResponse: receipt}, err
}

// known says whether there is or was somebody with an id: a slip of the finger would
// look like an erasure and bar the id for ever.
func (s people) known(ctx context.Context, id string) (bool, error) {
	club := s.club(ctx)
	_, err := s.kept.Person(ctx, club, id)
	if err == nil || !errors.Is(err, store.ErrNotFound) {
		return err == nil, err
	}
	state, err := s.clubState(ctx)
	if err != nil {
		return false, err
	}
	if _, erased := state.Erased[day.EntrantID(id)]; erased {
		return true, nil
	}
	texts, err := s.kept.AllTexts(ctx, club) // a row may be gone before its texts
	return slices.ContainsFunc(texts, func(t store.Text) bool { return slices.Contains(t.About, id) }), err
}

// EraseText removes one free text for good.
func (s people) EraseText(ctx context.Context, r gen.EraseTextRequestObject) (gen.EraseTextResponseObject, error) {
	state, err := s.clubState(ctx)
	if err != nil {
		return nil, err
	}
	_, err = s.kept.Text(ctx, s.club(ctx), r.Text)
	if _, gone := state.ErasedTexts[r.Text]; errors.Is(err, store.ErrNotFound) && !gone {
		return nil, refusal.New("no-text", "text", r.Text)
	}
	o := order{key: r.Params.IdempotencyKey, thing: r.Text}
	receipt, err := s.erase(ctx, o, club.EraseText{Text: r.Text})
	return gen.EraseText200JSONResponse{ReceiptJSONResponse: receipt}, err
}

// finishWithin bounds how long the caller of an erasure waits for its end.
const finishWithin = time.Minute

// erase gives the order of an erasure and finishes it, without the caller's context:
// who goes away ends the waiting and nothing else.
func (s people) erase(ctx context.Context, o order, c club.Command) (gen.ReceiptJSONResponse, error) {
	ctx, stop := context.WithTimeout(context.WithoutCancel(ctx), finishWithin)
	defer stop()
	receipt, err := s.clubOrder(ctx, o, c)
	if err != nil {
		return receipt, err
	}
	if err := s.erasures.Finish(ctx, s.club(ctx)); err != nil {
		s.log.Warn("an erasure is noted and goes on by itself", "error", err)
		return receipt, refusal.New("erasure-goes-on")
	}
	return receipt, nil
}
