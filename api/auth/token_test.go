package auth_test

import (
	"bytes"
	"context"
	"encoding/base64"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"benchmeet/api/auth"
	"benchmeet/api/store"
	"benchmeet/api/store/sqlite"
	"benchmeet/domain/refusal"
)

// safe is a set of tokens on a store of its own, with a clock that tests move.
type safe struct {
	auth.Tokens
	store  *sqlite.Store
	folder string
	now    time.Time
}

func newSafe(t *testing.T) *safe {
	t.Helper()
	k := &safe{folder: t.TempDir(), now: time.UnixMicro(1_800_000_000_000_000)}
	var err error
	if k.store, err = sqlite.Open(t.Context(), filepath.Join(k.folder, "meet.db")); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = k.store.Close() })
	for _, club := range []string{"harbour", "pier"} {
		if err := k.store.EnsureClub(t.Context(), store.Club{ID: club}); err != nil {
			t.Fatal(err)
		}
	}
	k.Tokens = auth.Tokens{Store: k.store, Now: func() time.Time { return k.now }}
	return k
}

func (k *safe) make(t *testing.T, w auth.Wish) (string, store.Token) {
	t.Helper()
	w.Club = "harbour"
	secret, made, err := k.Make(t.Context(), w)
	if err != nil {
		t.Fatal(err)
	}
	return secret, made
}

// TestCaller: a secret opens what its token says and nothing else does.
func TestCaller(t *testing.T) {
	k := newSafe(t)
	for _, role := range auth.Roles() {
		t.Run(string(role), func(t *testing.T) {
			w := auth.Wish{Role: role, Label: "at the door"}
			if role.AtBenches() {
				w.Benches = []string{"b1", "b2"}
			}
			secret, made := k.make(t, w)
			got, err := k.Caller(t.Context(), secret)
			if err != nil {
				t.Fatal(err)
			}
			want := auth.Caller{Role: role, Club: "harbour", Actor: made.Actor, Benches: w.Benches, Key: made.ID}
			if diff := cmp.Diff(want, got); diff != "" || made.Actor == "" {
				t.Errorf("(-want +got)\n%s", diff)
			}
			for name, other := range map[string]string{
				"nothing": "", "the hash": string(made.Hash[:]), "the id": made.ID, "shorter": secret[1:], "other letters": strings.ToUpper(secret),
			} {
				if c, err := k.Caller(t.Context(), other); !errors.Is(err, auth.ErrBadToken) {
					t.Errorf("%s opens %+v, %v", name, c, err)
				}
			}
		})
	}
}

// TestExpiry: a token opens until its hour, not at it.
func TestExpiry(t *testing.T) {
	k := newSafe(t)
	secret, _ := k.make(t, auth.Wish{Role: auth.Official, Expires: k.now.Add(time.Hour)})
	k.now = k.now.Add(time.Hour - time.Microsecond)
	if _, err := k.Caller(t.Context(), secret); err != nil {
		t.Errorf("before its hour: %v", err)
	}
	k.now = k.now.Add(time.Microsecond)
	if _, err := k.Caller(t.Context(), secret); !errors.Is(err, auth.ErrBadToken) {
		t.Errorf("at its hour: %v", err)
	}
}

// TestRevoke: a revoked token opens nothing, others do, and nobody revokes for
// another club. Revoking again keeps the first moment.
func TestRevoke(t *testing.T) {
	k := newSafe(t)
	secret, made := k.make(t, auth.Wish{Role: auth.Organiser})
	other, _ := k.make(t, auth.Wish{Role: auth.Organiser})
	if err := k.Revoke(t.Context(), "pier", made.ID); !errors.Is(err, store.ErrNotFound) {
		t.Errorf("another club: %v", err)
	}
	if err := k.Revoke(t.Context(), "harbour", "none"); !errors.Is(err, store.ErrNotFound) {
		t.Errorf("none: %v", err)
	}
	if _, err := k.Caller(t.Context(), secret); err != nil {
		t.Fatal(err)
	}
	at := k.now
	for range 2 {
		if err := k.Revoke(t.Context(), "harbour", made.ID); err != nil {
			t.Fatal(err)
		}
		k.now = k.now.Add(time.Minute)
	}
	if _, err := k.Caller(t.Context(), secret); !errors.Is(err, auth.ErrBadToken) {
		t.Errorf("the revoked one: %v", err)
	}
	if _, err := k.Caller(t.Context(), other); err != nil {
		t.Errorf("the other: %v", err)
	}
	if kept, err := k.store.TokenByHash(t.Context(), made.Hash); err != nil || kept.RevokedUS != at.UnixMicro() {
		t.Errorf("revoked at %d, want %d (%v)", kept.RevokedUS, at.UnixMicro(), err)
	}
}

// TestWishesThatCannotBe are refused and leave nothing behind.
func TestWishesThatCannotBe(t *testing.T) {
	k := newSafe(t)
	for _, tt := range []struct {
		name string
		wish auth.Wish
		code refusal.Code
	}{
		{"no role", auth.Wish{}, "bad-token-wish"},
		{"an unknown role", auth.Wish{Role: "king"}, "bad-token-wish"},
		{"a role of later", auth.Wish{Role: "family"}, "bad-token-wish"},
		{"a token for everybody", auth.Wish{Role: auth.Public}, "bad-token-wish"},
		{"a phone without benches", auth.Wish{Role: auth.Volunteer}, "token-benches"},
		{"a counter box without benches", auth.Wish{Role: auth.Box}, "token-benches"},
		{"an official of one bench", auth.Wish{Role: auth.Official, Benches: []string{"b1"}}, "token-no-benches"},
		{"an end that has passed", auth.Wish{Role: auth.Organiser, Expires: k.now.Add(-time.Second)}, "token-end"},
		{"an end now", auth.Wish{Role: auth.Organiser, Expires: k.now}, "token-end"},
		{"an end that is never", auth.Wish{Role: auth.Organiser, Expires: k.now.Add(401 * 24 * time.Hour)}, "token-long"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			tt.wish.Club = "harbour"
			secret, _, err := k.Make(t.Context(), tt.wish)
			if no, is := refusal.As(err); !is || no.Code != tt.code || secret != "" {
				t.Errorf("got %q, %v, want %s", secret, err, tt.code)
			}
		})
	}
	if all, err := k.store.AllTokens(t.Context(), "harbour"); err != nil || len(all) != 0 {
		t.Errorf("%d tokens are kept, %v", len(all), err)
	}
}

// TestSecrets have 192 bits that look random, are drawn anew for each token, and
// are nowhere in the store's files.
func TestSecrets(t *testing.T) {
	k := newSafe(t)
	const n = 400
	seen := map[string]bool{}
	var ones [192]int
	for range n {
		secret, made := k.make(t, auth.Wish{Role: auth.Organiser})
		bits, err := base64.RawURLEncoding.DecodeString(secret)
		if err != nil || len(bits) != 24 || seen[secret] || seen[made.ID] {
			t.Fatalf("%q of %s: %v", secret, made.ID, err)
		}
		seen[secret], seen[made.ID] = true, true
		for i := range ones {
			ones[i] += int(bits[i/8] >> (i % 8) & 1)
		}
	}
	for i, sum := range ones { // 200 expected; 70 away is 7 standard deviations
		if sum < n/2-70 || sum > n/2+70 {
			t.Errorf("bit %d is set in %d of %d secrets", i, sum, n)
		}
	}
	secret, made := k.make(t, auth.Wish{Role: auth.Organiser})
	if made.Hash != auth.Hash(secret) {
		t.Error("the hash is not the secret's")
	}
	if err := k.store.Close(); err != nil {
		t.Fatal(err)
	}
	files, err := os.ReadDir(k.folder)
	if err != nil {
		t.Fatal(err)
	}
	hashes := 0
	for _, f := range files {
		content, err := os.ReadFile(filepath.Join(k.folder, f.Name()))
		if err != nil {
			t.Fatal(err)
		}
		if strings.Contains(string(content), secret) {
			t.Errorf("%s holds the secret", f.Name())
		}
		hashes += bytes.Count(content, made.Hash[:])
	}
	if hashes == 0 {
		t.Error("the hash is not found either: the search looks at the wrong place")
	}
}

// TestStoreThatFails is no bad token: the caller may try again.
func TestStoreThatFails(t *testing.T) {
	k := newSafe(t)
	secret, _ := k.make(t, auth.Wish{Role: auth.Organiser})
	ctx, stop := context.WithCancel(t.Context())
	stop()
	if _, err := k.Caller(ctx, secret); err == nil || errors.Is(err, auth.ErrBadToken) {
		t.Errorf("got %v", err)
	}
}
