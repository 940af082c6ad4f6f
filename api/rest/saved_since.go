package rest

import (
	"bytes"
	"context"
	"encoding/json"
	"slices"

	"benchmeet/api/store"
	"benchmeet/api/wire"
	"benchmeet/domain/journal"
	"benchmeet/domain/refusal"
)

// savedSinceError is a save that rests on an older edition, with what is there now.
type savedSinceError struct {
	no      *refusal.Refusal
	current map[string]any
}

// Error is the refusal's sentence.
func (e *savedSinceError) Error() string { return e.no.Error() }

// Unwrap makes it the refusal that it is.
func (e *savedSinceError) Unwrap() error { return e.no }

// savedSince adds to a refused save what is there now, and who has saved it when: the log
// is read for the last event of the types about the thing. Any other error stays as it is.
func (s orders) savedSince(
	ctx context.Context, err error, of store.Stream, thing string, types []string, current func() (any, error),
) error {
	no, is := refusal.As(err)
	if !is || no.Code != "saved-since" {
		return err
	}
	now, err := current()
	if err != nil {
		return err
	}
	text, err := json.Marshal(now)
	if err != nil {
		return err
	}
	out := &savedSinceError{}
	if err := json.Unmarshal(text, &out.current); err != nil {
		return err
	}
	by, at := "", int64(0)
	about := []byte(`"id":"` + thing + `"`)
	err = s.kept.Read(ctx, of, 0, func(r journal.Record) error {
		e, err := r.Open()
		if err == nil && slices.Contains(types, e.Type) && (thing == "" || bytes.Contains(e.Data, about)) {
			by, at = e.Actor, e.Time
		}
		return err
	})
	out.no = refusal.New("saved-since", "by", by, "at", wire.Instant(at).Format("2006-01-02T15:04:05Z07:00"))
	if err != nil {
		return err
	}
	return out
}

// meetSavedSince is savedSince of what belongs to the meet as a whole.
func (s orders) meetSavedSince(ctx context.Context, err error, meetID string, types ...string) error {
	return s.savedSince(ctx, err, store.MeetStream(s.club(ctx), meetID), "", types, func() (any, error) {
		now, err := s.meetView(ctx, meetID, nil)
		return now.MeetAlone(), err
	})
}
