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
	if err := a.Set(t.Context(), who, " Table ", words); err != nil {
		t.Fatal(err)
	}
	signIn := func(club, name, password string) (auth.Caller, error) {
		t.Helper()
		secret, by, _, err := a.SignIn(t.Context(), club, name, password, "127.0.0.1")
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
	by, err := signIn("harbour", "TABLE", words)
	if err != nil || by.Actor != who.Actor || by.Role != auth.Organiser || !by.Session || by.Key == who.Key {
		t.Fatalf("signed in as %+v, %v", by, err)
	}
	for _, wrong := range [][3]string{
		{"harbour", "table", others}, {"harbour", "door", words}, {"pier", "table", words}, {"harbour", "", ""},
	} {
		if _, err := signIn(wrong[0], wrong[1], wrong[2]); !errors.Is(err, auth.ErrWrongPassword) {
			t.Errorf("%v: %v", wrong, err)
		}
	}
	if err := a.Revoke(t.Context(), "harbour", key); err != nil {
		t.Fatal(err)
	}
	if _, err := signIn("harbour", "table", words); !errors.Is(err, auth.ErrWrongPassword) {
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
	before, _, _, err := a.SignIn(t.Context(), "harbour", "table", words, laptop)
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
	if _, _, _, err := a.SignIn(t.Context(), "harbour", "table", words, laptop); !errors.Is(err, auth.ErrWrongPassword) {
		t.Errorf("the password of before: %v", err)
	}
	if _, _, _, err := a.SignIn(t.Context(), "harbour", "table", others, laptop); err != nil {
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
		if _, _, _, err := a.SignIn(t.Context(), "harbour", "table", others, laptop); !errors.Is(err, auth.ErrWrongPassword) {
			t.Fatal(err)
		}
	}
	var wait *auth.WaitError
	if _, _, _, err := a.SignIn(t.Context(), "harbour", "table", words, laptop); !errors.As(err, &wait) || wait.For != time.Second {
		t.Fatalf("at once: %v", err)
	}
	k.now = k.now.Add(wait.For)
	if _, _, _, err := a.SignIn(t.Context(), "harbour", "table", words, laptop); err != nil {
		t.Errorf("after the wait: %v", err)
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
