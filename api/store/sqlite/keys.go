package sqlite

import (
	"context"
	"sync"

	"benchmeet/api/store"
)

// keys are the tokens that are out and the sessions that were made with them. Each
// request asks for one of them, so those that were found are kept here until any of them
// changes: nobody else writes to the file.
type keys struct {
	in       *Store
	tokens   found[store.Token]
	sessions found[sessionOf]
}

// sessionOf is a session with the token that it was made with.
type sessionOf struct {
	session store.Session
	token   store.Token
}

// write runs fn in a turn of the writer, and forgets what was found before it.
func (s *keys) write(ctx context.Context, fn func(*connection) error) error {
	defer s.forget()
	return s.in.writer.do(ctx, fn)
}

func (s *keys) forget() {
	s.tokens.forget()
	s.sessions.forget()
}

// found is what secrets open, by their hashes. One that opens nothing is not kept, so
// there is no more of it than there is in the file.
type found[T any] struct {
	mu      sync.Mutex
	of      map[[32]byte]T
	changes int
}

// at gives what is kept under a hash, or looks it up and keeps it, unless it was told to
// forget meanwhile.
func (f *found[T]) at(hash [32]byte, look func() (T, error)) (T, error) {
	f.mu.Lock()
	v, known := f.of[hash]
	before := f.changes
	f.mu.Unlock()
	if known {
		return v, nil
	}
	v, err := look()
	if err != nil {
		return v, err
	}
	f.mu.Lock()
	defer f.mu.Unlock()
	if f.changes == before {
		if f.of == nil {
			f.of = map[[32]byte]T{}
		}
		f.of[hash] = v
	}
	return v, nil
}

func (f *found[T]) forget() {
	f.mu.Lock()
	defer f.mu.Unlock()
	f.of = nil
	f.changes++
}
