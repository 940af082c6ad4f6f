package auth

import (
	"context"
	"errors"
	"fmt"
	"strings"
	"time"
	"unicode/utf8"

	"golang.org/x/text/unicode/norm"

	"benchmeet/api/store"
	"benchmeet/domain/refusal"
)

// ErrWrongPassword is returned for a name and a password that do not fit together; it
// does not say which of both is wrong. It is an ErrBadToken.
var ErrWrongPassword = fmt.Errorf("name and password do not fit together: type both again (%w)", ErrBadToken)

// WaitError is returned for a try that comes too early after wrong ones.
type WaitError struct{ For time.Duration }

// Seconds are whole ones, so that who waits for as many has waited for long enough.
func (e *WaitError) Seconds() int { return int((e.For + time.Second - 1) / time.Second) }

func (e *WaitError) Error() string { return fmt.Sprintf("wait %d s before the next try", e.Seconds()) }

// Accounts sign organisers in by a name and a password. An account stands beside the key
// with which somebody first signed in by a link: it opens what that opens, ends when that
// is revoked or over, and its sessions are listed and ended as all others are.
type Accounts struct {
	Tokens
	Kept      store.Accounts
	Passwords *Passwords
	Waits     *Waits
}

// longestAccount is in characters.
const longestAccount = 64

// accountName is the form in which a name is kept and compared.
func accountName(name string) string {
	return norm.NFC.String(strings.ToLower(strings.TrimSpace(name)))
}

// Set gives the caller's key a name and a password, or others than it had. Other sessions
// of the key end: whoever sets a password anew may have reason to. Who is an organiser
// alone may have one.
func (a Accounts) Set(ctx context.Context, who Caller, name, password string) error {
	name = accountName(name)
	switch {
	case who.Role != Organiser:
		return refusal.New("account-role")
	case name == "" || utf8.RuneCountInString(name) > longestAccount:
		return refusal.New("account-name", "most", longestAccount)
	}
	if err := Fit(password); err != nil {
		return err
	}
	own, err := a.Own(ctx, who)
	if err != nil {
		return err
	}
	if _, err := a.Store.Token(ctx, who.Club, own); errors.Is(err, store.ErrNotFound) {
		return refusal.New("account-role") // a key of this process alone
	} else if err != nil {
		return err
	}
	hash, err := a.Passwords.Hash(ctx, password)
	if err != nil {
		return err
	}
	if err := a.put(ctx, store.Account{Club: who.Club, Token: own, Name: name, Hash: hash, SetUS: a.Now().UnixMicro()}); err != nil {
		return err
	}
	return a.EndOthers(ctx, who)
}

// put keeps an account. A name is free again once the key that it stood beside is over.
func (a Accounts) put(ctx context.Context, account store.Account) error {
	err := a.Kept.PutAccount(ctx, account)
	if !errors.Is(err, store.ErrConflict) {
		return err
	}
	_, token, err := a.Kept.AccountByName(ctx, account.Club, account.Name)
	switch {
	case err == nil && Good(token, a.Now()):
		return refusal.New("account-taken", "name", account.Name)
	case err == nil:
		err = a.Kept.DropAccount(ctx, account.Club, token.ID)
	case errors.Is(err, store.ErrNotFound):
		err = nil // it was given up meanwhile
	}
	if err != nil {
		return err
	}
	if err = a.Kept.PutAccount(ctx, account); errors.Is(err, store.ErrConflict) {
		return refusal.New("account-taken", "name", account.Name)
	}
	return err
}

// Own is the id of the token of a caller, also of one who came by a session.
func (a Accounts) Own(ctx context.Context, who Caller) (string, error) {
	if !who.Session {
		return who.Key, nil
	}
	session, err := a.Store.Session(ctx, who.Club, who.Key)
	return session.Token, err
}

// EndOthers signs out all browsers of the caller's key but the caller's own.
func (a Accounts) EndOthers(ctx context.Context, who Caller) error {
	token, err := a.Own(ctx, who)
	if err != nil {
		return err
	}
	all, err := a.Store.AllSessions(ctx, who.Club)
	if err != nil {
		return err
	}
	for _, one := range all {
		if one.Token != token || one.EndedUS != 0 || (who.Session && one.ID == who.Key) {
			continue
		}
		if err := a.EndSession(ctx, who.Club, one.ID); err != nil {
			return err
		}
	}
	return nil
}

// Try is a name and a password that somebody typed.
type Try struct {
	Club, Name, Password string
	Address              string // from which it comes; see Waits
	// By is as whom the browser is signed in.
	By Caller
	// Order is the client's id of the order, random and known to nobody else: a retry
	// under it, because the first answer was lost, gives the same session. Empty gives
	// each another one.
	Order string
}

// SignIn makes a session for a browser. It returns a WaitError for one that has to wait,
// whose password is not looked at then, ErrWrongPassword, and ErrOtherWish for an order
// whose session was ended.
func (a Accounts) SignIn(ctx context.Context, t Try) (secret string, who Caller, end time.Time, err error) {
	name := accountName(t.Name)
	account, token, err := a.Kept.AccountByName(ctx, t.Club, name)
	if err != nil && !errors.Is(err, store.ErrNotFound) {
		return "", Caller{}, end, err
	}
	door, from := t.Club+"\n"+name, t.Address
	if t.By.Session && t.By.Club == t.Club {
		if own, err := a.Own(ctx, t.By); err == nil && own == token.ID {
			from = "session " + t.By.Key // whatever others do at its address
			a.Waits.Know(door, from)
		}
	}
	if wait := a.Waits.Try(door, from); wait > 0 {
		return "", Caller{}, end, &WaitError{For: wait}
	}
	right, err := a.Passwords.Check(ctx, t.Password, account.Hash)
	if err != nil {
		a.Waits.Undo(door, from) // nobody looked at it
		return "", Caller{}, end, err
	}
	if !right || !Good(token, a.Now()) {
		return "", Caller{}, end, ErrWrongPassword
	}
	a.Waits.Right(door, from)
	secret, id := a.draw("account\n"+token.Club+"\n"+token.ID, t.Order)
	who, end, err = a.begin(ctx, token, id, secret, ErrOtherWish)
	if err != nil {
		return "", Caller{}, end, err
	}
	return secret, who, end, nil
}
