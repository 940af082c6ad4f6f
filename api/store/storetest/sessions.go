package storetest

import (
	"testing"

	"github.com/google/go-cmp/cmp"

	"benchmeet/api/store"
)

func testSessions(t *testing.T, d Database) {
	ctx, s := fresh(t, d)
	must(t, s.EnsureClub(ctx, store.Club{ID: "quay"}))
	token := store.Token{ID: "t-1", Club: harbour, Hash: [32]byte{1}, Role: "volunteer", Actor: "v-1", Benches: []string{"b1"}, Meet: "spring"}
	there := store.Token{ID: "t-1", Club: "quay", Hash: [32]byte{2}, Role: "organiser", Actor: "o-1"}
	must(t, s.PutToken(ctx, token))
	must(t, s.PutToken(ctx, there))
	phone := store.Session{ID: "s-1", Club: harbour, Token: "t-1", Hash: [32]byte{9, 0, 255}, MadeUS: 1, SeenUS: 2}
	other := store.Session{ID: "s-2", Club: harbour, Token: "t-1", Hash: [32]byte{8}, MadeUS: 3, SeenUS: 3}
	elsewhere := store.Session{ID: "s-1", Club: "quay", Token: "t-1", Hash: [32]byte{7}, MadeUS: 1, SeenUS: 1}
	for _, n := range []store.Session{phone, other, elsewhere} {
		must(t, s.PutSession(ctx, n))
	}
	for _, want := range []store.Session{phone, other, elsewhere} {
		got, of, err := s.SessionByHash(ctx, want.Hash)
		must(t, err)
		wantToken := token
		if want.Club == "quay" {
			wantToken = there
		}
		if diff := cmp.Diff(want, got) + cmp.Diff(wantToken, of); diff != "" {
			t.Errorf("session by its hash (-want +got):\n%s", diff)
		}
		got, err = s.Session(ctx, want.Club, want.ID)
		must(t, err)
		if diff := cmp.Diff(want, got); diff != "" {
			t.Errorf("session by its id (-want +got):\n%s", diff)
		}
	}
	_, _, err := s.SessionByHash(ctx, [32]byte{1})
	wantError(t, "SessionByHash of a token's hash", err, store.ErrNotFound)
	_, err = s.Session(ctx, harbour, "s-9")
	wantError(t, "Session", err, store.ErrNotFound)
	again := phone
	again.Hash = [32]byte{6}
	wantError(t, "PutSession of an id that is there", s.PutSession(ctx, again), store.ErrConflict)
	again.ID, again.Hash = "s-9", phone.Hash
	wantError(t, "PutSession of a hash that is there", s.PutSession(ctx, again), store.ErrConflict)

	must(t, s.SeeSession(ctx, harbour, "s-1", 50))
	must(t, s.SeeSession(ctx, harbour, "s-1", 40)) // another server's clock may be behind
	must(t, s.EndSession(ctx, harbour, "s-1", 60))
	must(t, s.EndSession(ctx, harbour, "s-1", 70))
	phone.SeenUS, phone.EndedUS = 50, 60
	all, err := s.AllSessions(ctx, harbour)
	must(t, err)
	if diff := cmp.Diff([]store.Session{phone, other}, all); diff != "" {
		t.Errorf("sessions (-want +got):\n%s", diff)
	}

	must(t, s.UseToken(ctx, harbour, "t-1", 5))
	must(t, s.UseToken(ctx, harbour, "t-1", 6))
	token.UsedUS = 5
	got, err := s.Token(ctx, harbour, "t-1")
	must(t, err)
	if diff := cmp.Diff(token, got); diff != "" {
		t.Errorf("a token in use (-want +got):\n%s", diff)
	}
	got, err = s.Token(ctx, "quay", "t-1")
	must(t, err)
	if diff := cmp.Diff(there, got); diff != "" {
		t.Errorf("the other club's (-want +got):\n%s", diff)
	}
}

// testKeysAsTheyAre: what a key opens is told as it is now, each time, though it was told
// before.
func testKeysAsTheyAre(t *testing.T, d Database) {
	ctx, s := fresh(t, d)
	token := store.Token{ID: "t-1", Club: harbour, Hash: [32]byte{1}, Role: "volunteer", Actor: "v-1", Benches: []string{"b1"}}
	session := store.Session{ID: "s-1", Club: harbour, Token: "t-1", Hash: [32]byte{9}, MadeUS: 1, SeenUS: 1}
	same := func(after string) {
		t.Helper()
		for range 2 {
			got, err := s.TokenByHash(ctx, token.Hash)
			must(t, err)
			n, of, err := s.SessionByHash(ctx, session.Hash)
			must(t, err)
			if diff := cmp.Diff(token, got) + cmp.Diff(session, n) + cmp.Diff(token, of); diff != "" {
				t.Errorf("after %s (-want +got):\n%s", after, diff)
			}
			for i := range got.Benches {
				got.Benches[i] = "changed by the caller"
			}
			for i := range of.Benches {
				of.Benches[i] = "changed by the caller"
			}
		}
	}
	_, err := s.TokenByHash(ctx, token.Hash)
	wantError(t, "TokenByHash", err, store.ErrNotFound)
	must(t, s.PutToken(ctx, token))
	_, _, err = s.SessionByHash(ctx, session.Hash)
	wantError(t, "SessionByHash", err, store.ErrNotFound)
	must(t, s.PutSession(ctx, session))
	same("both were made")
	session.SeenUS = 5
	must(t, s.SeeSession(ctx, harbour, "s-1", 5))
	same("it was seen")
	token.UsedUS = 6
	must(t, s.UseToken(ctx, harbour, "t-1", 6))
	same("it was used")
	token.Benches, token.RevokedUS = []string{"b1", "b2"}, 7
	must(t, s.PutToken(ctx, token))
	same("it was revoked")
	session.EndedUS = 8
	must(t, s.EndSession(ctx, harbour, "s-1", 8))
	same("it was ended")
	old := token.Hash
	token.Hash = [32]byte{2}
	must(t, s.PutToken(ctx, token))
	same("it got another secret")
	_, err = s.TokenByHash(ctx, old)
	wantError(t, "TokenByHash of the old secret", err, store.ErrNotFound)
	must(t, s.Close())
	if _, err := s.TokenByHash(ctx, token.Hash); err == nil {
		t.Error("a closed store tells a token")
	}
	if _, _, err := s.SessionByHash(ctx, session.Hash); err == nil {
		t.Error("a closed store tells a session")
	}
}

// An account is its club's own, has its name alone there, and goes without its token.
func testAccounts(t *testing.T, d Database) {
	ctx := t.Context()
	open := d.New(t)
	s := opened(t, open)
	token := store.Token{ID: "t-1", Club: harbour, Hash: [32]byte{1}, Role: "organiser", Actor: "o-1"}
	second := store.Token{ID: "t-2", Club: harbour, Hash: [32]byte{2}, Role: "organiser", Actor: "o-2"}
	there := store.Token{ID: "t-1", Club: "quay", Hash: [32]byte{3}, Role: "organiser", Actor: "o-1"}
	for _, of := range []store.Token{token, second, there} {
		must(t, s.EnsureClub(ctx, store.Club{ID: of.Club}))
		must(t, s.PutToken(ctx, of))
	}
	table := store.Account{Club: harbour, Token: "t-1", Name: "table", Hash: "$one", SetUS: 5}
	door := store.Account{Club: harbour, Token: "t-2", Name: "door", Hash: "$two", SetUS: 6}
	elsewhere := store.Account{Club: "quay", Token: "t-1", Name: "table", Hash: "$three", SetUS: 7}
	for _, a := range []store.Account{door, table, elsewhere} {
		must(t, s.PutAccount(ctx, a))
	}
	taken := door
	taken.Name = "table"
	wantError(t, "a name that another account has", s.PutAccount(ctx, taken), store.ErrConflict)
	if err := s.PutAccount(ctx, store.Account{Club: harbour, Token: "t-9", Name: "nobody"}); err == nil {
		t.Error("an account without a token is kept")
	}
	table.Name, table.Hash, table.SetUS = "timing", "$four", 8
	must(t, s.PutAccount(ctx, table))
	_, _, err := s.AccountByName(ctx, harbour, "table")
	wantError(t, "the name of before", err, store.ErrNotFound)
	_, _, err = s.AccountByName(ctx, harbour, "TIMING")
	wantError(t, "a name that is written otherwise", err, store.ErrNotFound)
	// The token is told as it is now.
	token.RevokedUS = 9
	must(t, s.PutToken(ctx, token))
	must(t, s.Close())

	s = opened(t, open)
	for _, want := range []struct {
		account store.Account
		token   store.Token
	}{{table, token}, {door, second}, {elsewhere, there}} {
		got, of, err := s.AccountByName(ctx, want.account.Club, want.account.Name)
		must(t, err)
		if diff := cmp.Diff(want.account, got) + cmp.Diff(want.token, of); diff != "" {
			t.Errorf("account by its name (-want +got):\n%s", diff)
		}
	}
	must(t, s.DropAccount(ctx, harbour, "t-2"))
	must(t, s.DropAccount(ctx, harbour, "t-2"))
	all, err := s.AllAccounts(ctx, harbour)
	must(t, err)
	if diff := cmp.Diff([]store.Account{table}, all); diff != "" {
		t.Errorf("accounts (-want +got):\n%s", diff)
	}
	all, err = s.AllAccounts(ctx, "quay")
	must(t, err)
	if diff := cmp.Diff([]store.Account{elsewhere}, all); diff != "" {
		t.Errorf("the other club's (-want +got):\n%s", diff)
	}
}

// The token of an account is renewed by its sessions, a day later at least, and by nothing
// that is over.
func testRenewals(t *testing.T, d Database) {
	ctx, s := fresh(t, d)
	const day = 86_400_000_000
	must(t, s.EnsureClub(ctx, store.Club{ID: "quay"}))
	token := store.Token{ID: "t-1", Club: harbour, Hash: [32]byte{1}, Role: "organiser", Actor: "o-1", ExpiresUS: 30 * day, RenewUS: 30 * day}
	there := store.Token{ID: "t-1", Club: "quay", Hash: [32]byte{2}, Role: "organiser", Actor: "o-1", ExpiresUS: 30 * day, RenewUS: 30 * day}
	lasting := store.Token{ID: "t-2", Club: harbour, Hash: [32]byte{3}, Role: "organiser", Actor: "o-2", ExpiresUS: 30 * day}
	other := store.Token{ID: "t-3", Club: harbour, Hash: [32]byte{4}, Role: "organiser", Actor: "o-3", ExpiresUS: 30 * day, RenewUS: 30 * day}
	for n, of := range []store.Token{token, there, lasting, other} {
		must(t, s.PutToken(ctx, of))
		must(t, s.PutSession(ctx, store.Session{ID: "s-" + of.ID, Club: of.Club, Token: of.ID, Hash: [32]byte{100, byte(n)}}))
		if of.ID != "t-3" {
			must(t, s.PutAccount(ctx, store.Account{Club: of.Club, Token: of.ID, Name: of.ID}))
		}
	}
	must(t, s.PutSession(ctx, store.Session{ID: "s-ended", Club: harbour, Token: "t-1", Hash: [32]byte{99}}))
	must(t, s.EndSession(ctx, harbour, "s-ended", 1))
	renew := func(session string, at, want int64, why string) {
		t.Helper()
		must(t, s.RenewToken(ctx, harbour, session, at))
		token.ExpiresUS = want
		_, got, err := s.SessionByHash(ctx, [32]byte{100, 0})
		must(t, err)
		if diff := cmp.Diff(token, got); diff != "" {
			t.Errorf("%s (-want +got):\n%s", why, diff)
		}
	}
	renew("s-t-1", day-1, 30*day, "less than a day later")
	renew("s-ended", 2*day, 30*day, "by a session that was ended")
	renew("s-none", 2*day, 30*day, "by no session")
	renew("s-t-1", day, 31*day, "a day later")
	renew("s-t-1", day+1, 31*day, "twice a day")
	renew("s-t-1", 31*day-1, 61*day-1, "in the last moment")
	renew("s-t-1", 20*day, 61*day-1, "by a clock that is behind")
	renew("s-t-1", 61*day-1, 61*day-1, "at its end")
	token.RevokedUS = 40 * day
	must(t, s.PutToken(ctx, token))
	renew("s-t-1", 50*day, 61*day-1, "after it was revoked")
	must(t, s.RenewToken(ctx, harbour, "s-t-2", 2*day))
	must(t, s.RenewToken(ctx, harbour, "s-t-3", 2*day))
	for why, want := range map[string]store.Token{
		"one that ends as it was made to": lasting, "one without an account": other, "the other club's": there,
	} {
		got, err := s.Token(ctx, want.Club, want.ID)
		must(t, err)
		if diff := cmp.Diff(want, got); diff != "" {
			t.Errorf("%s (-want +got):\n%s", why, diff)
		}
	}
}
