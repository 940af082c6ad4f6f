package auth_test

import (
	"errors"
	"testing"
	"time"

	"benchmeet/api/auth"
)

// TestKeysOfAClockAhead: what a clock gave that was a year ahead lasts from when it is set right as long as it was to
// last, in the browser that it signed in too; what the right clock gave, and another club's, stays as it was.
func TestKeysOfAClockAhead(t *testing.T) {
	const year, lasts = 365 * 24 * time.Hour, 36 * time.Hour // of a referee
	k := newSafe(t)
	right := k.now
	_, before := k.make(t, auth.Wish{Role: auth.Referee})
	k.now = right.Add(year)
	secret, ahead := k.make(t, auth.Wish{Role: auth.Referee})
	_, theirs, err := k.Make(t.Context(), auth.Wish{Club: "pier", Role: auth.Referee})
	if err != nil {
		t.Fatal(err)
	}
	link, _ := k.make(t, auth.Wish{Role: auth.Referee})
	cookie, _, _, err := k.Exchange(t.Context(), "harbour", link, "")
	if err != nil {
		t.Fatal(err)
	}

	k.now = right.Add(time.Hour)
	for i, want := range []int{2, 0} {
		if n, err := k.SetRight(t.Context(), "harbour"); err != nil || n != want {
			t.Fatalf("call %d sets %d right: %v", i+1, n, err)
		}
	}
	all, err := k.store.AllTokens(t.Context(), "harbour")
	if err != nil {
		t.Fatal(err)
	}
	for _, token := range all {
		switch token.ID {
		case before.ID:
			if token.CreatedUS != before.CreatedUS || token.ExpiresUS != before.ExpiresUS {
				t.Errorf("a key of before is %+v", token)
			}
		case ahead.ID:
			if token.CreatedUS != k.now.UnixMicro() || token.ExpiresUS != k.now.Add(lasts).UnixMicro() {
				t.Errorf("the key is of %v until %v", time.UnixMicro(token.CreatedUS), time.UnixMicro(token.ExpiresUS))
			}
		}
	}
	if others, err := k.store.AllTokens(t.Context(), "pier"); err != nil || len(others) != 1 || others[0].ExpiresUS != theirs.ExpiresUS {
		t.Errorf("another club's keys are %+v: %v", others, err)
	}
	for _, what := range []struct {
		key  string
		open func(string) error
	}{
		{secret, func(s string) error { _, err := k.Whose(t.Context(), s); return err }},
		{cookie, func(s string) error { _, err := k.Browser(t.Context(), s); return err }},
	} {
		k.now = right.Add(time.Hour + lasts - time.Second)
		if err := what.open(what.key); err != nil {
			t.Errorf("a second before its end: %v", err)
		}
		k.now = k.now.Add(time.Second)
		if err := what.open(what.key); !errors.Is(err, auth.ErrBadToken) {
			t.Errorf("at its end: %v", err)
		}
	}
}
