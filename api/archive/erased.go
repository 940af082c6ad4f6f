package archive

import (
	"cmp"
	"context"
	"slices"

	"benchmeet/api/store"
	"benchmeet/domain/club"
	"benchmeet/domain/journal"
)

// erased is when each person, and each text that was erased alone, was erased, in µs.
// Its keys have no time.
type erased map[store.Erasure]int64

// note keeps the earlier time.
func (e erased) note(what store.Erasure, atUS int64) {
	what.AtUS = 0
	if before, there := e[what]; !there || atUS < before {
		e[what] = atUS
	}
}

// person says whether somebody was erased.
func (e erased) person(id string) bool {
	_, gone := e[store.Erasure{Person: id}]
	return gone
}

// text says whether a text was erased, alone or with somebody whom it is about.
func (e erased) text(t store.Text) bool {
	_, gone := e[store.Erasure{Text: t.ID}]
	return gone || slices.ContainsFunc(t.About, e.person)
}

// sorted lists the erasures, people by id and then texts by id.
func (e erased) sorted() []store.Erasure {
	var out []store.Erasure
	for what, atUS := range e {
		what.AtUS = atUS
		out = append(out, what)
	}
	slices.SortFunc(out, func(a, b store.Erasure) int {
		return cmp.Or(cmp.Compare(a.Text, b.Text), cmp.Compare(a.Person, b.Person))
	})
	return out
}

// gather adds whom a source calls erased: in its list, and in the club's log,
// which may be ahead of the list where a server stopped in between.
func (e erased) gather(ctx context.Context, from Source, clubID string) error {
	listed, err := from.Erasures(ctx, clubID)
	if err != nil {
		return err
	}
	for _, l := range listed {
		e.note(l, l.AtUS)
	}
	streams, err := from.Streams(ctx, clubID)
	if err != nil {
		return err
	}
	// An archive of a single meet has no log of the club.
	of := store.ClubStream(clubID)
	if !slices.ContainsFunc(streams, func(h store.StreamHead) bool { return h.Stream == of }) {
		return nil
	}
	return from.Read(ctx, of, 0, func(r journal.Record) error {
		envelope, err := r.Open()
		if err != nil {
			return refuse("stream %s: %w", of, err)
		}
		// Only these are decoded: of all others nothing is asked here.
		if envelope.Type != (club.PersonErased{}).Type() && envelope.Type != (club.TextErased{}).Type() {
			return nil
		}
		event, err := club.Decode(envelope.Type, envelope.V, envelope.Data)
		if err != nil {
			return refuse("stream %s: record %d: %w", of, r.Seq, err)
		}
		switch gone := event.(type) {
		case club.PersonErased:
			e.note(store.Erasure{Person: string(gone.Person)}, envelope.Time)
		case club.TextErased:
			e.note(store.Erasure{Text: gone.Text}, envelope.Time)
		}
		return nil
	})
}
