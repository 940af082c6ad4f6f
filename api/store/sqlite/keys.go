package sqlite

import (
	"context"
	"sync"

	"benchmeet/api/store"
)

// keys are the tokens that are out and the sessions that were made with them. Each
// request asks for one of them, so those that were found are kept here until any of them
// changes: nobody else writes to the file. A secret that opens nothing is not kept, and
// there are no more than tokens and sessions.
type keys struct {
	in *Store

	mu       sync.Mutex
	changes  int // how often any was written
	tokens   map[[32]byte]store.Token
	sessions map[[32]byte]sessionOf
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
	s.mu.Lock()
	defer s.mu.Unlock()
	s.changes++
	s.tokens, s.sessions = nil, nil
}

// found gives what is kept under a hash, or looks it up and keeps it, unless anything was
// written meanwhile.
func found[T any](s *keys, kept func() *map[[32]byte]T, hash [32]byte, look func() (T, error)) (T, error) {
	s.mu.Lock()
	v, known := (*kept())[hash]
	before := s.changes
	s.mu.Unlock()
	if known {
		return v, nil
	}
	v, err := look()
	if err != nil {
		return v, err
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.changes == before {
		if *kept() == nil {
			*kept() = map[[32]byte]T{}
		}
		(*kept())[hash] = v
	}
	return v, nil
}
