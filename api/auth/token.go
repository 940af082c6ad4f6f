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
	"benchmeet/domain/refusal"
)

// ErrBadToken is returned for a secret that opens nothing: unknown, expired or
// revoked. It does not say which.
var ErrBadToken = errors.New("this token is not known here, or is not valid any more: ask the organiser for a new one")

// ErrUsed is returned for a link that signed in a browser already and is good for
// one. It is an ErrBadToken.
var ErrUsed = fmt.Errorf("this link signed in a browser already, and is good for one: ask the organiser for a new one (%w)", ErrBadToken)

// ErrOtherClub is returned for a token that is good, but of another club than the one
// whose address it came to.
var ErrOtherClub = errors.New("this token is for another club")

// ErrOtherWish is returned by Make for an order id that made another token.
var ErrOtherWish = errors.New("this order id was used for another token")

// Kept is what is asked of the store: one token at a time, however many are out.
type Kept interface {
	PutToken(ctx context.Context, t store.Token) error
	AllTokens(ctx context.Context, club string) ([]store.Token, error)
	TokenByHash(ctx context.Context, hash [32]byte) (store.Token, error)
	Token(ctx context.Context, club, id string) (store.Token, error)
	UseToken(ctx context.Context, club, id string, atUS int64) error
	RenewToken(ctx context.Context, club, session string, atUS int64) error
	store.Sessions
}

// Tokens makes and checks tokens of a store.
type Tokens struct {
	Store Kept
	Now   func() time.Time
	// Key keys the secrets of tokens that are made under an order's id; see
	// store.Secret.
	Key []byte
	// Lent are the tokens of this process alone; nil for none.
	Lent *Lent
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
	Meet    string    // the only meet that it is for; empty for all
	Expires time.Time // zero is what is usual for the role
	// Order is the client's id of the order, random and known to nobody else; empty
	// where each asking is to make another token.
	Order string
}

// Make draws a secret and keeps its hash. The secret is returned this once, and
// again to whoever asks under the same order id, because the first answer may
// have been lost; with another wish that is ErrOtherWish. A token of a volunteer
// or a counter box names at least one bench. Every token has an end, which lies
// ahead.
func (t Tokens) Make(ctx context.Context, w Wish) (secret string, made store.Token, err error) {
	w.Role = RoleNamed(string(w.Role))
	forBenches := w.Role.AtBenches()
	switch {
	case !slices.Contains(Roles(), w.Role):
		return "", made, refusal.New("bad-token-wish", "role", w.Role)
	case forBenches && len(w.Benches) == 0:
		return "", made, refusal.New("token-benches")
	case !forBenches && len(w.Benches) > 0:
		return "", made, refusal.New("token-no-benches")
	}
	secret, id := t.drawn(w)
	made = store.Token{
		ID: id, Club: w.Club, Hash: Hash(secret), Role: string(w.Role), Actor: string(w.Role) + "-" + id[:6],
		Benches: w.Benches, Label: w.Label, CreatedUS: t.Now().UnixMicro(), Meet: w.Meet,
	}
	if w.Role == Organiser && w.Expires.IsZero() {
		made.RenewUS = w.Role.lasts().Microseconds()
	}
	if w.Order != "" {
		old, err := t.Store.Token(ctx, w.Club, id)
		if err == nil {
			if old.Hash != made.Hash || !w.made(old) {
				return "", made, ErrOtherWish
			}
			return secret, old, nil
		}
		if !errors.Is(err, store.ErrNotFound) {
			return "", made, err
		}
	}
	if made.ExpiresUS, err = t.end(w); err != nil {
		return "", made, err
	}
	return secret, made, t.Store.PutToken(ctx, made)
}

// Made says whether a token was made under the order's id of a wish, so that making it
// again gives the same.
func (t Tokens) Made(ctx context.Context, w Wish) (bool, error) {
	if w.Order == "" {
		return false, nil
	}
	_, id := t.drawn(w)
	_, err := t.Store.Token(ctx, w.Club, id)
	if errors.Is(err, store.ErrNotFound) {
		return false, nil
	}
	return err == nil, err
}

// drawn are the secret and the id of a wished token.
func (t Tokens) drawn(w Wish) (secret, id string) { return t.draw("token\n"+w.Club, w.Order) }

// made says whether a token is what was wished for.
func (w Wish) made(t store.Token) bool {
	return t.Role == string(w.Role) && t.Label == w.Label && t.Meet == w.Meet && slices.Equal(t.Benches, w.Benches) &&
		(w.Expires.IsZero() || w.Expires.UnixMicro() == t.ExpiresUS)
}

// end is when a token that is made now ends.
func (t Tokens) end(w Wish) (int64, error) {
	now := t.Now()
	switch {
	case w.Expires.IsZero():
		return now.Add(w.Role.lasts()).UnixMicro(), nil
	case !w.Expires.After(now):
		return 0, refusal.New("token-end")
	case w.Expires.After(now.Add(longest)):
		return 0, refusal.New("token-long", "days", int(longest.Hours()/24))
	}
	return w.Expires.UnixMicro(), nil
}

// EndOf is when a token ends, in µs since 1970-01-01 UTC. One that was made when
// tokens had no end has what is usual now.
func EndOf(t store.Token) int64 {
	if t.ExpiresUS != 0 {
		return t.ExpiresUS
	}
	return t.CreatedUS + RoleNamed(t.Role).lasts().Microseconds()
}

// Good says whether a token opens something at an instant.
func Good(t store.Token, at time.Time) bool { return t.RevokedUS == 0 && at.UnixMicro() < EndOf(t) }

// draw draws a secret and an id: by chance, or, for an order, so that a retry gives the
// same. The secret then is as hard to guess as the order's id together with the
// server's own key.
func (t Tokens) draw(what, order string) (secret, id string) {
	if order == "" {
		return byChance()
	}
	mac := hmac.New(sha256.New, t.Key)
	mac.Write([]byte(what + "\n" + order))
	return cut(mac.Sum(nil))
}

// byChance draws a secret and an id that nobody can draw again.
func byChance() (secret, id string) {
	var random [secretAndID]byte
	rand.Read(random[:]) // never fails
	return cut(random[:])
}

// secretAndID is how many bytes make a secret, of 192 bits, and an id.
const secretAndID = 24 + 6

func cut(random []byte) (secret, id string) {
	return base64.RawURLEncoding.EncodeToString(random[:24]), hex.EncodeToString(random[24:secretAndID])
}

// Caller finds who holds a token. It returns ErrBadToken for one that opens
// nothing, and ErrUsed for a link that a browser used up.
func (t Tokens) Caller(ctx context.Context, secret string) (Caller, error) {
	return t.caller(ctx, secret, true)
}

// Whose is Caller for somebody who only looks whose a token is: it does not count
// as use by a program.
func (t Tokens) Whose(ctx context.Context, secret string) (Caller, error) {
	return t.caller(ctx, secret, false)
}

func (t Tokens) caller(ctx context.Context, secret string, use bool) (Caller, error) {
	if lent, there := t.Lent.caller(secret); there {
		return lent, nil
	}
	token, err := t.good(ctx, secret)
	if err != nil {
		return Caller{}, err
	}
	who := callerOf(token)
	if !who.Role.Once() || token.UsedUS != 0 {
		return who, nil
	}
	_, err = t.Store.Session(ctx, token.Club, token.ID)
	switch {
	case err == nil:
		return Caller{}, ErrUsed
	case !errors.Is(err, store.ErrNotFound):
		return Caller{}, err
	case use:
		return who, t.Store.UseToken(ctx, token.Club, token.ID, t.Now().UnixMicro())
	}
	return who, nil
}

// good is the token with a secret, if it opens something now.
func (t Tokens) good(ctx context.Context, secret string) (store.Token, error) {
	token, err := t.Store.TokenByHash(ctx, Hash(secret))
	if errors.Is(err, store.ErrNotFound) {
		return token, ErrBadToken
	}
	if err == nil && !Good(token, t.Now()) {
		err = ErrBadToken
	}
	return token, err
}

func callerOf(t store.Token) Caller {
	return Caller{Role: RoleNamed(t.Role), Club: t.Club, Actor: t.Actor, Benches: t.Benches, Meet: t.Meet, Key: t.ID}
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
