package store

import "context"

// Caches keep what can be made anew from the logs, to save time. Whatever they
// return was put there once, by this or another version of the program, and may be
// behind the log or ahead of what is left of it: each holds what its reader needs
// to judge that. They hold nothing that the logs do not hold, so no name of a
// person.
type Caches interface {
	// PutCache keeps a cache of a stream under a name, replacing the one before.
	PutCache(ctx context.Context, s Stream, name string, body []byte) error
	// Cache returns a cache of a stream, or ErrNotFound.
	Cache(ctx context.Context, s Stream, name string) ([]byte, error)
	// DropCaches removes all caches of a club. It costs time at the next start and
	// nothing else.
	DropCaches(ctx context.Context, club string) error
}
