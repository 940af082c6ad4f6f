package archive

import (
	"context"
	"errors"

	"benchmeet/api/store"
	"benchmeet/domain/journal"
	"benchmeet/domain/trace"
)

// Source is what can be archived, checked and imported. Every store.Store is
// one, and so is a Reader; the methods mean what they mean there.
type Source interface {
	Clubs(ctx context.Context) ([]store.Club, error)
	Streams(ctx context.Context, club string) ([]store.StreamHead, error)
	Read(ctx context.Context, s store.Stream, after int64, each func(journal.Record) error) error
	Runs(ctx context.Context, club string, each func(store.RunKey) error) error
	Chunks(ctx context.Context, club string, run store.RunKey) ([]trace.Stored, error)
	LateChunks(ctx context.Context, club string, run store.RunKey) ([]trace.Stored, error)
	AllPeople(ctx context.Context, club string) ([]store.Person, error)
	AllTexts(ctx context.Context, club string) ([]store.Text, error)
	Erasures(ctx context.Context, club string) ([]store.Erasure, error)
}

var (
	// ErrUnreadable is wrapped where a file is no archive or is damaged.
	ErrUnreadable = errors.New("the file cannot be read as an archive")
	// ErrRefused is wrapped where what was asked for was understood and breaks a
	// rule: a broken chain, another history, a later format, a club that is not
	// there. Nothing was changed.
	ErrRefused = errors.New("refused")
)
