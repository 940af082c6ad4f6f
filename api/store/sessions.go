package store

import "context"

// Sessions are the browsers that signed in, kept only as hashes of what is in
// their cookies.
type Sessions interface {
	// PutSession keeps a session. Another one with its id or its hash is
	// ErrConflict.
	PutSession(ctx context.Context, s Session) error
	// SessionByHash returns the session with this hash and the token that it was
	// made with, or ErrNotFound. It says nothing of ends; the caller looks.
	SessionByHash(ctx context.Context, hash [32]byte) (Session, Token, error)
	// Session returns the club's session with this id, or ErrNotFound.
	Session(ctx context.Context, club, id string) (Session, error)
	// AllSessions returns the club's sessions in the order of their ids.
	AllSessions(ctx context.Context, club string) ([]Session, error)
	// SeeSession notes when a session was last seen, if that is later.
	SeeSession(ctx context.Context, club, id string, atUS int64) error
	// EndSession notes that a session has ended; later calls change nothing.
	EndSession(ctx context.Context, club, id string, atUS int64) error
}

// Session is a browser that signed in with a token.
type Session struct {
	ID      string
	Club    string
	Token   string   // id of the token it was made with
	Hash    [32]byte // SHA-256 of the secret in its cookie
	MadeUS  int64    // µs since 1970-01-01 UTC
	SeenUS  int64    // µs since 1970-01-01 UTC
	EndedUS int64    // µs since 1970-01-01 UTC; 0 not ended
}
