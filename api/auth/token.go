package auth

import (
	"context"
	"crypto/hmac"
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

// ErrOtherWish is returned by Make for an order id that made another token.
var ErrOtherWish = errors.New("this order id was used for another token")

// Kept is what is asked of the store: one token at a time, however many are out.
type Kept interface {
	PutToken(ctx context.Context, t store.Token) error
	TokenByHash(ctx context.Context, hash [32]byte) (store.Token, error)
	Token(ctx context.Context, club, id string) (store.Token, error)
}

// Tokens makes and checks tokens of a store.
type Tokens struct {
	Store Kept
	Now   func() time.Time
	// Key keys the secrets of tokens that are made under an order's id; see
	// store.Secret.
	Key []byte
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
	// Order is the client's id of the order, random and known to nobody else; empty
	// where each asking is to make another token.
	Order string
}

// Make draws a secret and keeps its hash. The secret is returned this once, and
// again to whoever asks under the same order id, because the first answer may
// have been lost; with another wish that is ErrOtherWish. A token of a bench or
// a counter box names at least one bench.
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
	random := t.draw(w)
	secret = base64.RawURLEncoding.EncodeToString(random[:24])
	id := hex.EncodeToString(random[24:])
	made = store.Token{
		ID: id, Club: w.Club, Hash: Hash(secret), Role: string(w.Role), Actor: string(w.Role) + "-" + id[:6],
		Benches: w.Benches, Label: w.Label, CreatedUS: t.Now().UnixMicro(),
	}
	if !w.Expires.IsZero() {
		made.ExpiresUS = w.Expires.UnixMicro()
	}
	if w.Order == "" {
		return secret, made, t.Store.PutToken(ctx, made)
	}
	old, err := t.Store.Token(ctx, w.Club, id)
	if errors.Is(err, store.ErrNotFound) {
		return secret, made, t.Store.PutToken(ctx, made)
	}
	if err != nil {
		return "", made, err
	}
	if old.Hash != made.Hash || old.Role != made.Role || old.Label != made.Label || old.ExpiresUS != made.ExpiresUS ||
		!slices.Equal(old.Benches, made.Benches) {
		return "", made, ErrOtherWish
	}
	return secret, old, nil
}

// draw draws what a secret and an id are made of: by chance, or, for an order,
// so that a retry gives the same. The secret then is as hard to guess as the
// order's id together with the server's own key.
func (t Tokens) draw(w Wish) (random [24 + 6]byte) {
	if w.Order == "" {
		rand.Read(random[:]) // never fails
		return random
	}
	mac := hmac.New(sha256.New, t.Key)
	mac.Write([]byte("token\n" + w.Club + "\n" + w.Order))
	copy(random[:], mac.Sum(nil))
	return random
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
	token, err := t.Store.Token(ctx, club, id)
	if err != nil || token.RevokedUS != 0 {
		return err
	}
	token.RevokedUS = t.Now().UnixMicro()
	return t.Store.PutToken(ctx, token)
}
