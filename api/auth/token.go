package auth

import (
	"context"
	"crypto/rand"
	"crypto/sha256"
	"encoding/base64"
	"encoding/hex"
	"errors"
	"fmt"
	"slices"
	"time"

	"benchmeet/api/store"
)

// ErrBadToken is returned for a secret that opens nothing: unknown, expired or
// revoked. It does not say which.
var ErrBadToken = errors.New("this token is not known here, or is not valid any more: ask the organiser for a new one")

// ErrBadRequest is wrapped by Make for a token that cannot be made.
var ErrBadRequest = errors.New("this token cannot be made")

// Tokens makes and checks tokens of a store.
type Tokens struct {
	Store store.Tokens
	Now   func() time.Time
}

// Hash is the form in which a secret is kept. The secret has 192 random bits, so
// a plain SHA-256 cannot be searched.
func Hash(secret string) [32]byte { return sha256.Sum256([]byte(secret)) }

// Wish is a token to be made.
type Wish struct {
	Club    string
	Role    Role
	Label   string
	Benches []string
	Expires time.Time // zero is never
}

// Make draws a secret and keeps its hash. The secret is returned this once. A
// token of a bench or a counter box names at least one bench.
func (t Tokens) Make(ctx context.Context, w Wish) (secret string, made store.Token, err error) {
	forBenches := w.Role == Bench || w.Role == Node
	switch {
	case !slices.Contains(Roles(), w.Role):
		return "", made, fmt.Errorf("%w: the role %q is none of organiser, official, bench, node", ErrBadRequest, w.Role)
	case forBenches && len(w.Benches) == 0:
		return "", made, fmt.Errorf("%w: name the benches that it is for", ErrBadRequest)
	case !forBenches && len(w.Benches) > 0:
		return "", made, fmt.Errorf("%w: only a bench's or a counter box's token is for benches", ErrBadRequest)
	}
	var random [24 + 6]byte
	rand.Read(random[:]) // never fails
	secret = base64.RawURLEncoding.EncodeToString(random[:24])
	id := hex.EncodeToString(random[24:])
	made = store.Token{
		ID: id, Club: w.Club, Hash: Hash(secret), Role: string(w.Role), Actor: string(w.Role) + "-" + id[:6],
		Benches: w.Benches, Label: w.Label, CreatedUS: t.Now().UnixMicro(),
	}
	if !w.Expires.IsZero() {
		made.ExpiresUS = w.Expires.UnixMicro()
	}
	return secret, made, t.Store.PutToken(ctx, made)
}

// Caller finds who holds a secret. It returns ErrBadToken for one that opens
// nothing.
func (t Tokens) Caller(ctx context.Context, secret string) (Caller, error) {
	token, err := t.Store.TokenByHash(ctx, Hash(secret))
	if errors.Is(err, store.ErrNotFound) {
		return Caller{}, ErrBadToken
	}
	if err != nil {
		return Caller{}, err
	}
	now := t.Now().UnixMicro()
	if token.RevokedUS != 0 || token.ExpiresUS != 0 && now >= token.ExpiresUS {
		return Caller{}, ErrBadToken
	}
	return Caller{Role: Role(token.Role), Club: token.Club, Actor: token.Actor, Benches: token.Benches}, nil
}

// Revoke makes a token useless from now on; store.ErrNotFound if there is none.
// Revoking again changes nothing.
func (t Tokens) Revoke(ctx context.Context, club, id string) error {
	all, err := t.Store.AllTokens(ctx, club)
	if err != nil {
		return err
	}
	i := slices.IndexFunc(all, func(k store.Token) bool { return k.ID == id })
	if i < 0 {
		return store.ErrNotFound
	}
	if all[i].RevokedUS != 0 {
		return nil
	}
	all[i].RevokedUS = t.Now().UnixMicro()
	return t.Store.PutToken(ctx, all[i])
}
