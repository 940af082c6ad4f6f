package archive

import (
	"context"
	"fmt"
	"maps"
	"slices"

	"benchmeet/api/store"
	"benchmeet/domain/club"
	"benchmeet/domain/journal"
)

// erased is when each person was erased, in µs.
type erased map[string]int64

// note keeps the earlier time.
func (e erased) note(person string, atUS int64) {
	if before, there := e[person]; !there || atUS < before {
		e[person] = atUS
	}
}

// sorted lists the erasures in the order of the ids.
func (e erased) sorted() []store.Erasure {
	var out []store.Erasure
	for _, person := range slices.Sorted(maps.Keys(e)) {
		out = append(out, store.Erasure{Person: person, AtUS: e[person]})
	}
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
		e.note(l.Person, l.AtUS)
	}
	streams, err := from.Streams(ctx, clubID)
	if err != nil {
		return err
	}
	of := store.ClubStream(clubID)
	if !slices.ContainsFunc(streams, func(h store.StreamHead) bool { return h.Stream == of }) {
		return nil
	}
	return from.Read(ctx, of, 0, func(r journal.Record) error {
		envelope, err := r.Open()
		if err != nil {
			return refuse("stream %s: %w", of, err)
		}
		if envelope.Type != (club.PersonErased{}).Type() {
			return nil
		}
		event, err := club.Decode(envelope.Type, envelope.V, envelope.Data)
		if err != nil {
			return refuse("stream %s: record %d: %w", of, r.Seq, err)
		}
		gone, is := event.(club.PersonErased)
		if !is {
			return fmt.Errorf("stream %s: record %d is a %T", of, r.Seq, event)
		}
		e.note(string(gone.Person), envelope.Time)
		return nil
	})
}
