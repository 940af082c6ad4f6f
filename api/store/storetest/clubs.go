package storetest

import (
	"bytes"
	"sync"
	"testing"

	"github.com/google/go-cmp/cmp"

	"benchmeet/api/store"
	"benchmeet/domain/journal"
	"benchmeet/domain/trace"
)

func testClubs(t *testing.T, d Database) {
	ctx := t.Context()
	s := opened(t, d.New(t))
	for _, c := range []store.Club{
		{ID: "quay", Name: "Quay Hall"},
		{ID: "harbour", Name: "Harbour Hall"},
		{ID: "harbour", Name: "another name changes nothing"},
		{ID: "harbour-2", Name: ""},
	} {
		must(t, s.EnsureClub(ctx, c))
	}
	got, err := s.Clubs(ctx)
	must(t, err)
	want := []store.Club{
		{ID: "harbour", Name: "Harbour Hall"},
		{ID: "harbour-2", Name: ""},
		{ID: "quay", Name: "Quay Hall"},
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("clubs (-want +got):\n%s", diff)
	}
}

// A club is given an address of its own, or changed; of two clubs one alone has a host name.
func testClubsInvited(t *testing.T, d Database) {
	ctx := t.Context()
	open := d.New(t)
	s := opened(t, open)
	must(t, s.EnsureClub(ctx, store.Club{ID: "harbour", Name: "Harbour Hall"}))
	must(t, s.PutClub(ctx, store.Club{ID: "harbour", Name: "Harbour", InvitedUS: 7, Host: "harbour.example"}))
	must(t, s.PutClub(ctx, store.Club{ID: "quay", Name: "Quay Hall", InvitedUS: 8}))
	must(t, s.PutClub(ctx, store.Club{ID: "pier", Name: "Pier", InvitedUS: 9})) // no host either
	wantError(t, "a host that is taken", s.PutClub(ctx, store.Club{ID: "quay", Name: "Q", Host: "harbour.example"}), store.ErrConflict)
	wantError(t, "the same for a new club", s.PutClub(ctx, store.Club{ID: "mole", Host: "harbour.example"}), store.ErrConflict)
	must(t, s.EnsureClub(ctx, store.Club{ID: "harbour", Name: "another name changes nothing", Host: "other.example"}))
	must(t, s.Close())
	got, err := opened(t, open).Clubs(ctx)
	must(t, err)
	want := []store.Club{
		{ID: "harbour", Name: "Harbour", InvitedUS: 7, Host: "harbour.example"},
		{ID: "pier", Name: "Pier", InvitedUS: 9},
		{ID: "quay", Name: "Quay Hall", InvitedUS: 8},
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("clubs (-want +got):\n%s", diff)
	}
}

// Everything that is kept belongs to a club that was made before.
func testClubUnknown(t *testing.T, d Database) {
	ctx, s := fresh(t, d)
	nowhere := store.ClubStream("nowhere")
	wantError(t, "Append", grow(ctx, s, nowhere, 1, "x"), store.ErrNotFound)
	wantError(t, "Remember", s.Write(ctx, nowhere, func(tx store.Tx) error {
		return tx.Remember(ctx, []store.Answer{{Command: "c"}})
	}), store.ErrNotFound)
	wantError(t, "PutPerson", s.Write(ctx, nowhere, func(tx store.Tx) error {
		return tx.PutPerson(ctx, store.Person{ID: "p"})
	}), store.ErrNotFound)
	wantError(t, "PutText", s.Write(ctx, nowhere, func(tx store.Tx) error {
		return tx.PutText(ctx, store.Text{ID: "t"})
	}), store.ErrNotFound)
	_, err := s.PutChunk(ctx, "nowhere", trace.Stored{Key: key("b1", "r1", 0)})
	wantError(t, "PutChunk", err, store.ErrNotFound)
	wantError(t, "CloseRun", s.CloseRun(ctx, "nowhere", store.RunKey{Bench: "b1"}), store.ErrNotFound)
	wantError(t, "FreezeRun", s.FreezeRun(ctx, "nowhere", store.RunKey{Bench: "b1"}, 1), store.ErrNotFound)
	wantError(t, "Erase", s.Erase(ctx, "nowhere", "p", 1), store.ErrNotFound)
	wantError(t, "EraseText", s.EraseText(ctx, "nowhere", "t", 1), store.ErrNotFound)
	wantError(t, "PutToken", s.PutToken(ctx, store.Token{ID: "t", Club: "nowhere"}), store.ErrNotFound)
}

func testSecrets(t *testing.T, d Database) {
	ctx := t.Context()
	open := d.New(t)
	s := opened(t, open)
	drawn := make([][]byte, 16)
	var all sync.WaitGroup
	for i := range drawn {
		all.Go(func() {
			secret, err := s.Secret(ctx, "commands")
			if err != nil {
				t.Error(err)
			}
			drawn[i] = secret
		})
	}
	all.Wait()
	for i, secret := range drawn {
		if len(secret) != 32 || !bytes.Equal(secret, drawn[0]) {
			t.Errorf("caller %d got %x, caller 0 got %x; want the same 32 bytes", i, secret, drawn[0])
		}
	}
	other, err := s.Secret(ctx, "texts")
	must(t, err)
	if bytes.Equal(other, drawn[0]) || bytes.Equal(other, make([]byte, 32)) {
		t.Errorf("the secret of another name is %x, want other random bytes", other)
	}
	must(t, s.Close())
	again, err := opened(t, open).Secret(ctx, "commands")
	must(t, err)
	if !bytes.Equal(again, drawn[0]) {
		t.Errorf("after reopening the secret is %x, want %x", again, drawn[0])
	}
}

func testClose(t *testing.T, d Database) {
	ctx, s := fresh(t, d)
	notices, err := s.Changes(ctx)
	must(t, err)
	must(t, s.Close())
	must(t, s.Close()) // again is harmless
	for range notices {
		t.Error("a notice came without a write")
	}
	stream := store.ClubStream(harbour)
	for name, call := range map[string]func() error{
		"Write":       func() error { return s.Write(ctx, stream, func(store.Tx) error { return nil }) },
		"Read":        func() error { return s.Read(ctx, stream, 0, func(journal.Record) error { return nil }) },
		"Streams":     func() error { _, err := s.Streams(ctx, harbour); return err },
		"Changes":     func() error { _, err := s.Changes(ctx); return err },
		"PutChunk":    func() error { _, err := s.PutChunk(ctx, harbour, trace.Stored{}); return err },
		"Chunks":      func() error { _, err := s.Chunks(ctx, harbour, store.RunKey{}); return err },
		"OpenRuns":    func() error { _, err := s.OpenRuns(ctx, harbour); return err },
		"CloseRun":    func() error { return s.CloseRun(ctx, harbour, store.RunKey{}) },
		"Runs":        func() error { return s.Runs(ctx, harbour, func(store.RunKey) error { return nil }) },
		"Person":      func() error { _, err := s.Person(ctx, harbour, "p"); return err },
		"AllPeople":   func() error { _, err := s.AllPeople(ctx, harbour); return err },
		"Texts":       func() error { _, err := s.Texts(ctx, harbour, []string{"t"}); return err },
		"Token":       func() error { _, err := s.Token(ctx, harbour, "t"); return err },
		"AllTexts":    func() error { _, err := s.AllTexts(ctx, harbour); return err },
		"Erase":       func() error { return s.Erase(ctx, harbour, "p", 1) },
		"EraseText":   func() error { return s.EraseText(ctx, harbour, "t", 1) },
		"Overwrite":   func() error { return s.Overwrite(ctx) },
		"FreezeRun":   func() error { return s.FreezeRun(ctx, harbour, store.RunKey{}, 1) },
		"LateChunks":  func() error { _, err := s.LateChunks(ctx, harbour, store.RunKey{}); return err },
		"Erasures":    func() error { _, err := s.Erasures(ctx, harbour); return err },
		"PutToken":    func() error { return s.PutToken(ctx, store.Token{Club: harbour}) },
		"TokenByHash": func() error { _, err := s.TokenByHash(ctx, [32]byte{}); return err },
		"AllTokens":   func() error { _, err := s.AllTokens(ctx, harbour); return err },
		"PutCache":    func() error { return s.PutCache(ctx, stream, "x", nil) },
		"Cache":       func() error { _, err := s.Cache(ctx, stream, "x"); return err },
		"DropCaches":  func() error { return s.DropCaches(ctx, harbour) },
		"EnsureClub":  func() error { return s.EnsureClub(ctx, store.Club{ID: "x"}) },
		"PutClub":     func() error { return s.PutClub(ctx, store.Club{ID: "x"}) },
		"PutAccount":  func() error { return s.PutAccount(ctx, store.Account{Club: harbour}) },
		"AllAccounts": func() error { _, err := s.AllAccounts(ctx, harbour); return err },
		"Clubs":       func() error { _, err := s.Clubs(ctx); return err },
		"Secret":      func() error { _, err := s.Secret(ctx, "x"); return err },
	} {
		if call() == nil {
			t.Errorf("%s succeeds after Close", name)
		}
	}
}
