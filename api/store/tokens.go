package store

import "context"

// Tokens are the keys that were handed out, kept only as hashes.
type Tokens interface {
	// PutToken keeps a token, replacing the row with the same id.
	PutToken(ctx context.Context, t Token) error
	// TokenByHash returns the token with this hash, or ErrNotFound. It says
	// nothing of expiry or revocation; the caller looks.
	TokenByHash(ctx context.Context, hash [32]byte) (Token, error)
	// Token returns the club's token with this id, or ErrNotFound.
	Token(ctx context.Context, club, id string) (Token, error)
	// AllTokens returns the club's tokens in the order of their ids.
	AllTokens(ctx context.Context, club string) ([]Token, error)
	// UseToken notes when a program first used a token as it is; later calls
	// change nothing.
	UseToken(ctx context.Context, club, id string, atUS int64) error
}

// Token is a key with what it opens.
type Token struct {
	ID        string
	Club      string
	Hash      [32]byte // SHA-256 of the secret
	Role      string   // see api/auth
	Actor     string   // the id that stands in events
	Benches   []string // the benches that it may act for, where the role asks
	Label     string   // what the organiser calls it; no name of a person
	CreatedUS int64    // µs since 1970-01-01 UTC
	ExpiresUS int64    // µs since 1970-01-01 UTC; 0 never
	RevokedUS int64    // µs since 1970-01-01 UTC; 0 not revoked
	Meet      string   // the meet that it is for alone; empty for none
	UsedUS    int64    // when a program first used it as it is, µs since 1970-01-01 UTC; 0 never
	RenewUS   int64    // for how long each use by an account keeps it good, µs; 0 where it ends as it was made to
}
