package auth_test

import (
	"errors"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"benchmeet/api/auth"
	"benchmeet/api/store"
)

// TestEveryTokenEnds: what nobody said an end of ends after what is usual for its
// role, and tokens that were kept without an end do so too.
func TestEveryTokenEnds(t *testing.T) {
	for role, lasts := range map[auth.Role]time.Duration{
		auth.Organiser: 30 * 24 * time.Hour, auth.Box: 365 * 24 * time.Hour,
		auth.Official: 36 * time.Hour, auth.Referee: 36 * time.Hour, auth.Inspector: 36 * time.Hour, auth.Volunteer: 36 * time.Hour,
	} {
		t.Run(string(role), func(t *testing.T) {
			k := newSafe(t)
			w := auth.Wish{Role: role}
			if role.AtBenches() {
				w.Benches = []string{"b1"}
			}
			secret, made := k.make(t, w)
			old := made
			old.ID, old.Hash, old.ExpiresUS = "of-before", auth.Hash("of-before"), 0
			if err := k.store.PutToken(t.Context(), old); err != nil {
				t.Fatal(err)
			}
			for _, token := range []string{secret, "of-before"} {
				k.now = time.UnixMicro(made.CreatedUS).Add(lasts - time.Second)
				if _, err := k.Whose(t.Context(), token); err != nil {
					t.Errorf("a second before its end: %v", err)
				}
				k.now = k.now.Add(time.Second)
				if _, err := k.Whose(t.Context(), token); !errors.Is(err, auth.ErrBadToken) {
					t.Errorf("at its end: %v", err)
				}
			}
		})
	}
}

// TestRolesOfBefore: tokens of before have the role of today's name.
func TestRolesOfBefore(t *testing.T) {
	k := newSafe(t)
	for name, role := range map[string]auth.Role{"bench": auth.Volunteer, "node": auth.Box, "official": auth.Official, "organiser": auth.Organiser} {
		kept := store.Token{ID: name, Club: "harbour", Hash: auth.Hash(name), Role: name, Actor: name + "-1", CreatedUS: k.now.UnixMicro()}
		if err := k.store.PutToken(t.Context(), kept); err != nil {
			t.Fatal(err)
		}
		if who, err := k.Caller(t.Context(), name); err != nil || who.Role != role {
			t.Errorf("%s is %s now, %v", name, who.Role, err)
		}
	}
}

// TestOneBrowserALink: a link signs in one browser; the browser's secret is another
// one, and the link then opens nothing, as a bearer neither. A retry of the exchange
// gets the same session.
func TestOneBrowserALink(t *testing.T) {
	for _, role := range []auth.Role{auth.Organiser, auth.Official, auth.Referee, auth.Inspector} {
		t.Run(string(role), func(t *testing.T) {
			k := newSafe(t)
			link, made := k.make(t, auth.Wish{Role: role})
			if _, err := k.Whose(t.Context(), link); err != nil { // looking does not use it up
				t.Fatal(err)
			}
			secret, who, end, err := k.Exchange(t.Context(), "harbour", link, "order-1")
			if err != nil || secret == link {
				t.Fatalf("%q, %v", secret, err)
			}
			want := auth.Caller{Role: role, Club: "harbour", Actor: made.Actor, Key: made.ID, Session: true}
			if diff := cmp.Diff(want, who); diff != "" || end.UnixMicro() != made.ExpiresUS {
				t.Errorf("until %v (-want +got)\n%s", end, diff)
			}
			if got, err := k.Browser(t.Context(), secret); err != nil || !cmp.Equal(want, got) {
				t.Errorf("the cookie is %+v, %v", got, err)
			}
			if again, _, _, err := k.Exchange(t.Context(), "harbour", link, "order-1"); err != nil || again != secret {
				t.Errorf("a retry gets %q, %v", again, err)
			}
			for _, order := range []string{"order-2", ""} {
				if other, _, _, err := k.Exchange(t.Context(), "harbour", link, order); !errors.Is(err, auth.ErrUsed) || other != "" {
					t.Errorf("another browser gets %q, %v", other, err)
				}
			}
			if c, err := k.Caller(t.Context(), link); !errors.Is(err, auth.ErrUsed) {
				t.Errorf("the link in the history is %+v, %v", c, err)
			}
			if c, err := k.Caller(t.Context(), secret); !errors.Is(err, auth.ErrBadToken) {
				t.Errorf("the cookie as a token is %+v, %v", c, err)
			}
			if c, err := k.Browser(t.Context(), link); !errors.Is(err, auth.ErrBadToken) {
				t.Errorf("the token as a cookie is %+v, %v", c, err)
			}
		})
	}
}

// TestProgramsFirst: a token that a program uses stays good for it, and signs in one
// browser too.
func TestProgramsFirst(t *testing.T) {
	k := newSafe(t)
	token, _ := k.make(t, auth.Wish{Role: auth.Organiser})
	if _, err := k.Caller(t.Context(), token); err != nil {
		t.Fatal(err)
	}
	if _, _, _, err := k.Exchange(t.Context(), "harbour", token, "order-1"); err != nil {
		t.Errorf("a browser: %v", err)
	}
	if _, err := k.Caller(t.Context(), token); err != nil {
		t.Errorf("the program, afterwards: %v", err)
	}
	if _, _, _, err := k.Exchange(t.Context(), "harbour", token, "order-2"); !errors.Is(err, auth.ErrUsed) {
		t.Errorf("a second browser: %v", err)
	}
}

// TestManyPhonesACode: a bench's code opens many phones; each has a session of its
// own, which ends alone, and all end with the code.
func TestManyPhonesACode(t *testing.T) {
	k := newSafe(t)
	code, made := k.make(t, auth.Wish{Role: auth.Volunteer, Benches: []string{"b1"}, Meet: "spring"})
	phones := map[string]auth.Caller{}
	for _, order := range []string{"1", "2", "3", ""} {
		secret, who, _, err := k.Exchange(t.Context(), "harbour", code, order)
		if err != nil || who.Meet != "spring" || phones[secret].Key != "" {
			t.Fatalf("%+v, %v", who, err)
		}
		phones[secret] = who
	}
	first := true
	for secret, who := range phones {
		if first {
			if err := k.EndSession(t.Context(), "pier", who.Key); !errors.Is(err, store.ErrNotFound) {
				t.Errorf("another club ends it: %v", err)
			}
			if err := k.EndSession(t.Context(), "harbour", who.Key); err != nil {
				t.Fatal(err)
			}
		}
		if _, err := k.Browser(t.Context(), secret); errors.Is(err, auth.ErrBadToken) != first {
			t.Errorf("signed out: %v, and the phone gets %v", first, err)
		}
		first = false
	}
	if err := k.Revoke(t.Context(), "harbour", made.ID); err != nil {
		t.Fatal(err)
	}
	for secret := range phones {
		if _, err := k.Browser(t.Context(), secret); !errors.Is(err, auth.ErrBadToken) {
			t.Errorf("after the code was taken back: %v", err)
		}
	}
}

// TestSeen: when a session was last seen is kept to a minute, and not more often.
func TestSeen(t *testing.T) {
	k := newSafe(t)
	code, _ := k.make(t, auth.Wish{Role: auth.Volunteer, Benches: []string{"b1"}})
	secret, who, _, err := k.Exchange(t.Context(), "harbour", code, "")
	if err != nil {
		t.Fatal(err)
	}
	began := k.now
	for _, tt := range []struct{ after, seen time.Duration }{
		{59 * time.Second, 0}, {61 * time.Second, 61 * time.Second}, {90 * time.Second, 61 * time.Second},
	} {
		k.now = began.Add(tt.after)
		if _, err := k.Browser(t.Context(), secret); err != nil {
			t.Fatal(err)
		}
		kept, err := k.store.Session(t.Context(), "harbour", who.Key)
		if err != nil || kept.SeenUS != began.Add(tt.seen).UnixMicro() {
			t.Errorf("after %v it was seen %v ago, %v", tt.after, k.now.Sub(time.UnixMicro(kept.SeenUS)), err)
		}
	}
}

// TestLent: what a process lends itself is kept nowhere.
func TestLent(t *testing.T) {
	k := newSafe(t)
	k.Lent = &auth.Lent{}
	secret := k.Lent.Make("harbour", auth.Organiser)
	if who, err := k.Caller(t.Context(), secret); err != nil || who.Role != auth.Organiser || who.Club != "harbour" || who.Actor == "" {
		t.Errorf("%+v, %v", who, err)
	}
	if all, err := k.store.AllTokens(t.Context(), "harbour"); err != nil || len(all) != 0 {
		t.Errorf("%d are kept, %v", len(all), err)
	}
	k.Lent = &auth.Lent{}
	if _, err := k.Caller(t.Context(), secret); !errors.Is(err, auth.ErrBadToken) {
		t.Errorf("another process: %v", err)
	}
}
