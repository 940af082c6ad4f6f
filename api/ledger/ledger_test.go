package ledger_test

import (
	"context"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"sync"
	"testing"
	"time"

	"benchmeet/api/ledger"
	"benchmeet/api/store"
	"benchmeet/api/store/postgres"
	"benchmeet/api/store/postgres/pgtest"
	"benchmeet/api/store/sqlite"
	"benchmeet/api/store/storetest"
	"benchmeet/domain/club"
	"benchmeet/domain/day"
	"benchmeet/domain/journal"
)

func TestMain(m *testing.M) { os.Exit(pgtest.Main(m)) }

// databases are the kinds of store that a ledger runs on.
var databases = []struct {
	name string
	new  func(testing.TB) storetest.Open
}{
	{"sqlite", newSQLite},
	{"postgres", newPostgres},
}

func newSQLite(t testing.TB) storetest.Open {
	path := filepath.Join(t.TempDir(), "meet.db")
	return func() (store.Store, error) { return sqlite.Open(context.Background(), path) }
}

func newPostgres(t testing.TB) storetest.Open {
	url := pgtest.Database(t)
	return func() (store.Store, error) { return postgres.Open(context.Background(), url) }
}

// onBoth runs a test on an empty database of each kind.
func onBoth(t *testing.T, test func(t *testing.T, s store.Store)) {
	for _, d := range databases {
		t.Run(d.name, func(t *testing.T) { test(t, opened(t, d.new(t))) })
	}
}

const harbour = "harbour"

var clubStream = store.ClubStream(harbour)

// opened opens a store with the club in it and closes it with the test.
func opened(t testing.TB, open storetest.Open) store.Store {
	t.Helper()
	s, err := open()
	must(t, err)
	t.Cleanup(func() { _ = s.Close() })
	must(t, s.EnsureClub(t.Context(), store.Club{ID: harbour, Name: "Harbour Hall"}))
	return s
}

func must(t testing.TB, err error) {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
}

type (
	clubs = ledger.Ledger[club.State, club.Command, club.Event]
	order = ledger.Order[club.Command]
)

// clockStart is where the clock of every test begins.
const clockStart = 1_800_000_000_000_000

// steady is a clock that goes on by a second at each look, and seeds that follow
// from the order.
func steady(logs store.Logs) ledger.Options {
	var mu sync.Mutex
	now := int64(clockStart)
	return ledger.Options{
		Logs: logs, Key: []byte("key"),
		Now: func() time.Time {
			mu.Lock()
			defer mu.Unlock()
			now += 1_000_000
			return time.UnixMicro(now)
		},
		Seed: func(string) uint64 { return 7 },
	}
}

// newClubs makes a ledger of club streams that ends with the test.
func newClubs(t testing.TB, o ledger.Options) *clubs {
	l := ledger.New(ledger.Clubs(), o)
	t.Cleanup(l.Close)
	return l
}

// register is the order that registers car n.
func register(n int) order {
	return order{
		ID: fmt.Sprintf("register-%d", n), Content: fmt.Appendf(nil, "car %d", n), Actor: "organiser",
		Command: club.RegisterCar{Car: club.Car{ID: day.CarID(fmt.Sprintf("car-%d", n)), Number: n}},
		Thing:   fmt.Sprintf("car-%d", n),
	}
}

// do carries an order out.
func do(t testing.TB, l *clubs, o order) ledger.Receipt {
	t.Helper()
	r, err := l.Do(t.Context(), clubStream, o)
	must(t, err)
	return r
}

// now is the club's newest state as the ledger knows it.
func now(t testing.TB, l *clubs) ledger.Snapshot[club.State] {
	t.Helper()
	snapshot, err := l.At(t.Context(), clubStream, 0)
	must(t, err)
	return snapshot
}

// checkLog fails unless the log of a stream is an unbroken chain of n records
// that folds to the state of the snapshot and whose times never run backwards.
func checkLog(t testing.TB, logs store.Logs, n int, snapshot ledger.Snapshot[club.State]) []journal.Envelope {
	t.Helper()
	var all []journal.Envelope
	var head journal.Head
	state := club.New()
	must(t, logs.Read(t.Context(), clubStream, 0, func(r journal.Record) (err error) {
		if head, err = ledger.Clubs().Fold(state, head, r); err != nil {
			return err
		}
		e, err := r.Open()
		if len(all) > 0 && e.Time < all[len(all)-1].Time {
			t.Errorf("record %d is earlier than the one before", r.Seq)
		}
		all = append(all, e)
		return err
	}))
	if len(all) != n {
		t.Errorf("the log has %d records, want %d", len(all), n)
	}
	if head != snapshot.Head {
		t.Errorf("the log ends at %v, the ledger is at %v", head, snapshot.Head)
	}
	if want, got := stateJSON(t, state), stateJSON(t, snapshot.State); want != got {
		t.Errorf("the log folds to\n%s, the ledger has\n%s", want, got)
	}
	return all
}

func stateJSON(t testing.TB, s any) string {
	t.Helper()
	text, err := json.Marshal(s)
	must(t, err)
	return string(text)
}
