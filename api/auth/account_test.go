package auth_test

import (
	"errors"
	"testing"
	"time"

	"benchmeet/api/auth"
	"benchmeet/domain/refusal"
)

const (
	words  = "rollers stop before hands go in"
	others = "lantern quay harbour mole pier"
	laptop = "192.0.2.1"
)

// typed is a try at the account "table".
func typed(password, address string) auth.Try {
	return auth.Try{Club: "harbour", Name: "table", Password: password, Address: address}
}

// accounts are those of a safe, and a browser that came by a one-time link.
func accounts(t *testing.T, k *safe) (a auth.Accounts, who auth.Caller, key string) {
	t.Helper()
	a = auth.Accounts{
		Tokens: k.Tokens, Kept: k.store, Passwords: auth.NewPasswords(), Waits: auth.NewWaits(func() time.Time { return k.now }),
	}
	link, made := k.make(t, auth.Wish{Role: auth.Organiser})
	_, who, _, err := k.Exchange(t.Context(), "harbour", link, "")
	if err != nil {
		t.Fatal(err)
	}
	return a, who, made.ID
}

// Whoever signed in by a link once signs in by name and password from then on, as the
// same person of the log, until the key ends.
func TestAccount(t *testing.T) {
	k := newSafe(t)
	a, who, key := accounts(t, k)
	const name, elsewhere = "k\u00fcche", "KU\u0308CHE" // the same letter, as two characters
	if err := a.Set(t.Context(), who, " K\u00fcche ", words); err != nil {
		t.Fatal(err)
	}
	signIn := func(club, name, password string) (auth.Caller, error) {
		t.Helper()
		secret, by, _, err := a.SignIn(t.Context(), auth.Try{Club: club, Name: name, Password: password, Address: "127.0.0.1"})
		if err != nil {
			if secret != "" {
				t.Errorf("refused with a secret: %v", err)
			}
			return by, err
		}
		got, err := a.Browser(t.Context(), secret)
		if err != nil || got.Key != by.Key {
			t.Errorf("the cookie is %+v, %v", got, err)
		}
		return got, err
	}
	by, err := signIn("harbour", elsewhere, words)
	if err != nil || by.Actor != who.Actor || by.Role != auth.Organiser || !by.Session || by.Key == who.Key {
		t.Fatalf("signed in as %+v, %v", by, err)
	}
	for _, wrong := range [][3]string{
		{"harbour", name, others}, {"harbour", "door", words}, {"pier", name, words}, {"harbour", "", ""},
	} {
		if _, err := signIn(wrong[0], wrong[1], wrong[2]); !errors.Is(err, auth.ErrWrongPassword) {
			t.Errorf("%v: %v", wrong, err)
		}
	}
	if err := a.Revoke(t.Context(), "harbour", key); err != nil {
		t.Fatal(err)
	}
	if _, err := signIn("harbour", name, words); !errors.Is(err, auth.ErrWrongPassword) {
		t.Errorf("after the key was revoked: %v", err)
	}
}

// A password that is set anew ends the browsers that came by the one before, but for the
// one that sets it, and not those of other keys.
func TestPasswordSetAnew(t *testing.T) {
	k := newSafe(t)
	a, who, _ := accounts(t, k)
	if err := a.Set(t.Context(), who, "table", words); err != nil {
		t.Fatal(err)
	}
	before, _, _, err := a.SignIn(t.Context(), typed(words, laptop))
	if err != nil {
		t.Fatal(err)
	}
	link, _ := k.make(t, auth.Wish{Role: auth.Organiser})
	secret, second, _, err := k.Exchange(t.Context(), "harbour", link, "")
	if err != nil {
		t.Fatal(err)
	}
	if err := a.Set(t.Context(), second, "Table", words); !refused(err, "account-taken") {
		t.Errorf("a name that is taken: %v", err)
	}
	if err := a.Set(t.Context(), who, "table", others); err != nil {
		t.Fatal(err)
	}
	if _, err := a.Browser(t.Context(), before); !errors.Is(err, auth.ErrBadToken) {
		t.Errorf("a browser of before: %v", err)
	}
	if _, err := a.Browser(t.Context(), secret); err != nil {
		t.Errorf("somebody else's: %v", err)
	}
	if _, _, _, err := a.SignIn(t.Context(), typed(words, laptop)); !errors.Is(err, auth.ErrWrongPassword) {
		t.Errorf("the password of before: %v", err)
	}
	if _, _, _, err := a.SignIn(t.Context(), typed(others, laptop)); err != nil {
		t.Errorf("the new one: %v", err)
	}
}

// Who tries too early is told for how long to wait, whatever the password.
func TestAccountWaits(t *testing.T) {
	k := newSafe(t)
	a, who, _ := accounts(t, k)
	if err := a.Set(t.Context(), who, "table", words); err != nil {
		t.Fatal(err)
	}
	for range 3 {
		if _, _, _, err := a.SignIn(t.Context(), typed(others, laptop)); !errors.Is(err, auth.ErrWrongPassword) {
			t.Fatal(err)
		}
	}
	var wait *auth.WaitError
	if _, _, _, err := a.SignIn(t.Context(), typed(words, laptop)); !errors.As(err, &wait) || wait.For != time.Second {
		t.Fatalf("at once: %v", err)
	}
	k.now = k.now.Add(wait.For)
	if _, _, _, err := a.SignIn(t.Context(), typed(words, laptop)); err != nil {
		t.Errorf("after the wait: %v", err)
	}
}

// An answer that was lost is given again: one session, under one secret, and never after it was ended.
func TestSignInRetried(t *testing.T) {
	k := newSafe(t)
	a, who, key := accounts(t, k)
	if err := a.Set(t.Context(), who, "table", words); err != nil {
		t.Fatal(err)
	}
	try := typed(words, laptop)
	try.Order = "0b4e7a52-6a1a-4d2b-9a10-3f5f3a3f0c11"
	first, by, end, err := a.SignIn(t.Context(), try)
	if err != nil {
		t.Fatal(err)
	}
	k.now = k.now.Add(time.Second)
	again, second, endAgain, err := a.SignIn(t.Context(), try)
	if err != nil || again != first || second.Key != by.Key || !endAgain.Equal(end) {
		t.Fatalf("retried: %+v, %v", second, err)
	}
	open := func() (n int) {
		all, err := k.store.AllSessions(t.Context(), "harbour")
		if err != nil {
			t.Fatal(err)
		}
		for _, one := range all {
			if one.Token == key && one.EndedUS == 0 && one.ID != who.Key {
				n++
			}
		}
		return n
	}
	if n := open(); n != 1 {
		t.Errorf("%d sessions of one order", n)
	}
	wrong := try
	wrong.Password = others
	if secret, _, _, err := a.SignIn(t.Context(), wrong); !errors.Is(err, auth.ErrWrongPassword) || secret != "" {
		t.Errorf("the same order with another password: %v", err)
	}
	other := try
	other.Order = "5f2c1c0e-0a55-4b2e-8a39-52f0b6a4a0de"
	if secret, _, _, err := a.SignIn(t.Context(), other); err != nil || secret == first {
		t.Errorf("another order: %v", err)
	}
	if n := open(); n != 2 {
		t.Errorf("%d sessions of two orders", n)
	}
	if err := a.EndSession(t.Context(), "harbour", by.Key); err != nil {
		t.Fatal(err)
	}
	if secret, _, _, err := a.SignIn(t.Context(), try); !errors.Is(err, auth.ErrOtherWish) || secret != "" {
		t.Errorf("after it was ended: %v", err)
	}
}

// An account in use does not end; one that nobody uses does after 30 days, and gives its name up.
func TestAccountRenewed(t *testing.T) {
	k := newSafe(t)
	a, who, _ := accounts(t, k)
	if err := a.Set(t.Context(), who, "table", words); err != nil {
		t.Fatal(err)
	}
	secret, _, _, err := a.SignIn(t.Context(), typed(words, laptop))
	if err != nil {
		t.Fatal(err)
	}
	for range 5 {
		k.now = k.now.Add(29 * 24 * time.Hour)
		if _, err := a.Browser(t.Context(), secret); err != nil {
			t.Fatalf("in use: %v", err)
		}
	}
	link, made := k.make(t, auth.Wish{Role: auth.Organiser, Expires: k.now.Add(40 * 24 * time.Hour)})
	_, second, _, err := k.Exchange(t.Context(), "harbour", link, "")
	if err != nil {
		t.Fatal(err)
	}
	if err := a.Set(t.Context(), second, "table", others); !refused(err, "account-taken") {
		t.Errorf("while it is in use: %v", err)
	}
	k.now = k.now.Add(30 * 24 * time.Hour)
	if _, err := a.Browser(t.Context(), secret); !errors.Is(err, auth.ErrBadToken) {
		t.Errorf("not used for 30 days: %v", err)
	}
	if err := a.Set(t.Context(), second, "table", others); err != nil {
		t.Fatalf("a name of a key that is over: %v", err)
	}
	secret, _, _, err = a.SignIn(t.Context(), typed(others, laptop))
	if err != nil {
		t.Fatal(err)
	}
	k.now = k.now.Add(time.Hour)
	if _, err := a.Browser(t.Context(), secret); err != nil {
		t.Fatal(err)
	}
	// Whoever said when the key is to end meant it.
	if got, err := k.store.Token(t.Context(), "harbour", made.ID); err != nil || got.ExpiresUS != made.ExpiresUS {
		t.Errorf("a key with an end of its own ends %d instead, %v", got.ExpiresUS-made.ExpiresUS, err)
	}
}

// Strangers who guess from the very address of somebody who is signed in keep them out not at all, and those at
// an address of their own not from one where they have been.
func TestGuessersLockNoOrganiserOut(t *testing.T) {
	k := newSafe(t)
	a, who, _ := accounts(t, k)
	if err := a.Set(t.Context(), who, "table", words); err != nil {
		t.Fatal(err)
	}
	if _, _, _, err := a.SignIn(t.Context(), typed(words, "192.0.2.9")); err != nil {
		t.Fatal(err)
	}
	guess := func(address string) {
		t.Helper()
		var wait *auth.WaitError
		for n := range 6 {
			if _, _, _, err := a.SignIn(t.Context(), typed(others, address)); !errors.Is(err, auth.ErrWrongPassword) && !errors.As(err, &wait) {
				t.Fatalf("guess %d: %v", n, err)
			}
		}
		if wait == nil {
			t.Fatal("guessers do not wait")
		}
	}
	guess("198.51.100.1")
	guess(laptop)
	if _, _, _, err := a.SignIn(t.Context(), typed(words, "192.0.2.9")); err != nil {
		t.Errorf("from where it signed in before: %v", err)
	}
	mine := typed(words, laptop)
	mine.By = who
	if _, _, _, err := a.SignIn(t.Context(), mine); err != nil {
		t.Errorf("signed in, behind one address with a guesser: %v", err)
	}
	link, _ := k.make(t, auth.Wish{Role: auth.Organiser})
	_, second, _, err := k.Exchange(t.Context(), "harbour", link, "")
	if err != nil {
		t.Fatal(err)
	}
	mine.By = second
	var wait *auth.WaitError
	if _, _, _, err := a.SignIn(t.Context(), mine); !errors.As(err, &wait) {
		t.Errorf("signed in as somebody else: %v", err)
	}
}

// A try that was not looked at, because too many signed in, counts for nothing.
func TestBusyIsNoWrongTry(t *testing.T) {
	k := newSafe(t)
	a, who, _ := accounts(t, k)
	if err := a.Set(t.Context(), who, "table", words); err != nil {
		t.Fatal(err)
	}
	release := a.Passwords.Fill()
	for range 20 {
		if _, _, _, err := a.SignIn(t.Context(), typed(words, laptop)); !refused(err, "passwords-busy") {
			t.Fatalf("while many sign in: %v", err)
		}
	}
	release()
	if _, _, _, err := a.SignIn(t.Context(), typed(words, laptop)); err != nil {
		t.Errorf("afterwards: %v", err)
	}
}

func TestAccountRefused(t *testing.T) {
	k := newSafe(t)
	a, who, _ := accounts(t, k)
	link, _ := k.make(t, auth.Wish{Role: auth.Referee})
	_, referee, _, err := k.Exchange(t.Context(), "harbour", link, "")
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		who            auth.Caller
		name, password string
		code           refusal.Code
	}{
		{referee, "table", words, "account-role"},
		{auth.Caller{Role: auth.Organiser, Club: "harbour", Key: "of-this-process"}, "table", words, "account-role"},
		{who, "  ", words, "account-name"},
		{who, "table", "too short", "password-length"},
	} {
		if err := a.Set(t.Context(), c.who, c.name, c.password); !refused(err, c.code) {
			t.Errorf("%s by %s: %v", c.code, c.who.Role, err)
		}
	}
	if all, err := k.store.AllAccounts(t.Context(), "harbour"); err != nil || len(all) != 0 {
		t.Errorf("kept after refusals: %d, %v", len(all), err)
	}
}

func refused(err error, code refusal.Code) bool {
	no, is := refusal.As(err)
	return is && no.Code == code
}
