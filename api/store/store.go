package store

import (
	"context"
	"errors"
	"fmt"
)

// Store is one database with everything that a server keeps. Its methods may
// be called from many goroutines at once.
type Store interface {
	Logs
	Traces
	People
	Tokens
	Sessions
	Accounts
	Caches

	// EnsureClub makes the club if it is not there yet.
	EnsureClub(ctx context.Context, club Club) error
	// PutClub makes the club or changes it. A host name that another club has is
	// ErrConflict.
	PutClub(ctx context.Context, club Club) error
	// Clubs lists the clubs in the order of their ids.
	Clubs(ctx context.Context) ([]Club, error)
	// Secret returns the random 32 bytes with this name, drawing and keeping
	// them at the first call. They key the hashes of command contents.
	Secret(ctx context.Context, name string) ([]byte, error)
	// Close releases the database. Calls after it fail.
	Close() error
}

// Club owns benches, people, cars, tokens and meets.
type Club struct {
	ID   string // lower-case letters, digits and hyphens
	Name string
	// InvitedUS is when the club was given an address of its own on a server with
	// several, in µs since 1970-01-01 UTC; 0 never.
	InvitedUS int64
	// Host is its own host name, in lower case; empty for none.
	Host string
}

// ErrNotFound is returned where the thing asked for is not kept.
var ErrNotFound = errors.New("not found")

// ErrConflict is returned where something else is already kept under the key.
var ErrConflict = errors.New("something else is kept under this key")

// ErrErased is returned where what was to be kept was erased, or is about somebody
// who was: an erasure is final. It is an ErrConflict.
var ErrErased = fmt.Errorf("it was erased, or is about somebody who was: %w", ErrConflict)
