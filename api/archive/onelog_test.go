package archive_test

import (
	"context"

	"benchmeet/api/store"
	"benchmeet/domain/journal"
	"benchmeet/domain/trace"
)

// oneLog is a source with the records of one meet and nothing else.
type oneLog []journal.Record

func (l oneLog) Clubs(context.Context) ([]store.Club, error) {
	return []store.Club{{ID: harbour}}, nil
}

func (l oneLog) Streams(context.Context, string) ([]store.StreamHead, error) {
	return []store.StreamHead{{Stream: store.MeetStream(harbour, spring), Head: l[len(l)-1].Head()}}, nil
}

func (l oneLog) Read(_ context.Context, _ store.Stream, _ int64, each func(journal.Record) error) error {
	for _, r := range l {
		if err := each(r); err != nil {
			return err
		}
	}
	return nil
}

func (l oneLog) Runs(context.Context, string, func(store.RunKey) error) error { return nil }

func (l oneLog) Chunks(context.Context, string, store.RunKey) ([]trace.Stored, error) {
	return nil, nil
}

func (l oneLog) LateChunks(context.Context, string, store.RunKey) ([]trace.Stored, error) {
	return nil, nil
}

func (l oneLog) AllPeople(context.Context, string) ([]store.Person, error) { return nil, nil }

func (l oneLog) AllTexts(context.Context, string) ([]store.Text, error) { return nil, nil }

func (l oneLog) Erasures(context.Context, string) ([]store.Erasure, error) { return nil, nil }
