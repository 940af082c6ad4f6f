package store

import "context"

// Accounts are the organisers who sign in by a name and a password.
type Accounts interface {
	// PutAccount keeps an account, replacing that of the same token. The name of another
	// account of the club is ErrConflict.
	PutAccount(ctx context.Context, a Account) error
	// AccountByName returns the club's account with this name and the token that it
	// stands beside, or ErrNotFound. It says nothing of the token's end; the caller looks.
	AccountByName(ctx context.Context, club, name string) (Account, Token, error)
	// AllAccounts returns the club's accounts in the order of their tokens' ids.
	AllAccounts(ctx context.Context, club string) ([]Account, error)
	// RenewToken has the token of a session end as long after an instant as RenewUS says,
	// if it has an account and that is a day later or more than it ends now. A token that
	// is over or revoked stays so, and a session that was ended renews none.
	RenewToken(ctx context.Context, club, session string, atUS int64) error
	// DropAccount forgets the account of a token; without one it changes nothing.
	DropAccount(ctx context.Context, club, token string) error
}

// Account is a name and a password that open what a token opens.
type Account struct {
	Club  string
	Token string // id of the token
	Name  string // that is typed to sign in, as the caller compares it
	Hash  string // of the password, with its salt and parameters
	SetUS int64  // when the password was set, µs since 1970-01-01 UTC
}
