package auth

import (
	"context"
	"errors"
	"time"

	"benchmeet/api/store"
)

// seenEvery is how exactly it is kept when a session was last seen.
const seenEvery = time.Minute

// renewEvery is by how much more an account's key has to last for its end to be moved: a
// write a day.
const renewEvery = 24 * time.Hour

// noteWithin bounds how long a request waits for that to be kept; it goes on without.
const noteWithin = 500 * time.Millisecond

// Exchange makes a session of a token, for a browser. A retry under the same order
// id, because the first answer was lost, gives the same session. The secret is for
// the cookie; end is when it becomes useless at the latest. It returns ErrUsed for a
// link that signed in another browser, and ErrOtherClub for a token that is not of the
// club.
func (t Tokens) Exchange(ctx context.Context, club, code, order string) (secret string, who Caller, end time.Time, err error) {
	token, err := t.good(ctx, code)
	if err != nil {
		return "", Caller{}, end, err
	}
	if token.Club != club {
		return "", Caller{}, end, ErrOtherClub
	}
	secret, id := t.draw("session\n"+token.Club+"\n"+token.ID, order)
	if Role(token.Role).Once() {
		id = token.ID // so that there is no second one
	}
	who, end, err = t.begin(ctx, token, id, secret, ErrUsed)
	if err != nil {
		return "", Caller{}, end, err
	}
	return secret, who, end, nil
}

// begin keeps a session of a token under an id. One that is there with the same secret and
// was not ended is that of an earlier try; any other is the error given.
func (t Tokens) begin(ctx context.Context, token store.Token, id, secret string, other error) (who Caller, end time.Time, err error) {
	now := t.Now().UnixMicro()
	made := store.Session{ID: id, Club: token.Club, Token: token.ID, Hash: Hash(secret), MadeUS: now, SeenUS: now}
	err = t.Store.PutSession(ctx, made)
	if errors.Is(err, store.ErrConflict) {
		var old store.Session
		old, err = t.Store.Session(ctx, token.Club, id)
		if err == nil && (old.Hash != made.Hash || old.EndedUS != 0) {
			err = other
		}
	}
	if err != nil {
		return Caller{}, end, err
	}
	who = callerOf(token)
	who.Key, who.Session = id, true
	return who, time.UnixMicro(EndOf(token)), nil
}

// Browser finds who holds a session's secret, and notes that it was seen, which keeps the
// key of an account good. It returns ErrBadToken for one that opens nothing.
func (t Tokens) Browser(ctx context.Context, secret string) (Caller, error) {
	session, token, err := t.Store.SessionByHash(ctx, Hash(secret))
	if errors.Is(err, store.ErrNotFound) {
		return Caller{}, ErrBadToken
	}
	if err != nil {
		return Caller{}, err
	}
	now := t.Now()
	if session.EndedUS != 0 || !Good(token, now) {
		return Caller{}, ErrBadToken
	}
	// One that was seen by a clock that was ahead is seen anew.
	if since := now.UnixMicro() - session.SeenUS; since >= seenEvery.Microseconds() || since < 0 {
		noting, stop := context.WithTimeout(ctx, noteWithin)
		_ = t.Store.SeeSession(noting, session.Club, session.ID, now.UnixMicro()) // the next request notes it
		if token.RenewUS > 0 && now.UnixMicro()+token.RenewUS-EndOf(token) >= renewEvery.Microseconds() {
			_ = t.Store.RenewToken(noting, session.Club, session.ID, now.UnixMicro()) // a later one renews it
		}
		stop()
	}
	who := callerOf(token)
	who.Key, who.Session = session.ID, true
	return who, nil
}

// EndSession signs a browser out; store.ErrNotFound if there is no such session.
// Ending again changes nothing.
func (t Tokens) EndSession(ctx context.Context, club, id string) error {
	if _, err := t.Store.Session(ctx, club, id); err != nil {
		return err
	}
	return t.Store.EndSession(ctx, club, id, t.Now().UnixMicro())
}
