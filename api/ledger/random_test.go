package ledger_test

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

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

// TestOneListManyWays gives one random list of orders on each store, with one
// ledger and with a restart before some of them, and with retries that must not
// matter. All end in the same state, the same answers and the same bytes.
func TestOneListManyWays(t *testing.T) {
	url, files := pgtest.Database(t), t.TempDir()
	one, two := opened(t, postgresAt(url)), opened(t, postgresAt(url))
	runs := 0
	rapid.Check(t, func(t *rapid.T) {
		orders := drawOrders(t)
		restarts := rapid.SliceOfNDistinct(rapid.IntRange(0, len(orders)-1), 0, 3, rapid.ID).Draw(t, "restarts")
		retries := rapid.SliceOfNDistinct(rapid.IntRange(0, len(orders)-1), 0, 3, rapid.ID).Draw(t, "retries")
		runs++
		var want *ended
		for _, way := range []struct {
			name     string
			open     storetest.Open
			restarts []int
			retries  []int
		}{
			{"sqlite", sqliteAt(filepath.Join(files, fmt.Sprintf("a%d.db", runs))), nil, nil},
			{"sqlite, restarted", sqliteAt(filepath.Join(files, fmt.Sprintf("b%d.db", runs))), restarts, retries},
			{"postgres", inTurn(one), nil, retries},
			{"postgres, restarted", inTurn(two, one), restarts, nil},
		} {
			got := playList(t, way.open, fmt.Sprintf("run-%d", runs), way.name, orders, way.restarts, way.retries)
			if want == nil {
				want = got
				continue
			}
			if diff := cmp.Diff(want, got); diff != "" {
				t.Fatalf("%s ends otherwise (-sqlite +%s)\n%s", way.name, way.name, diff)
			}
		}
		for _, kind := range []string{"a", "b"} {
			_ = os.Remove(filepath.Join(files, fmt.Sprintf("%s%d.db", kind, runs)))
		}
	})
}

// stays is a store that stays open.
type stays struct{ store.Store }

func (stays) Close() error { return nil }

// inTurn opens stores that are open, one after the other: as when one process of
// a database goes on where another stopped, without the time that connecting
// takes.
func inTurn(stores ...store.Store) storetest.Open {
	n := -1
	return func() (store.Store, error) {
		n++
		return stays{stores[n%len(stores)]}, nil
	}
}

func sqliteAt(path string) storetest.Open {
	return func() (store.Store, error) { return sqlite.Open(context.Background(), path) }
}

func postgresAt(url string) storetest.Open {
	return func() (store.Store, error) { return postgres.Open(context.Background(), url) }
}

// ended is what a list of orders ends in.
type ended struct {
	State   string
	Answers []string // one an order
	Log     []string // envelopes without what names the way
}

// playList gives the orders in a way and returns what they end in. The stream
// carries the way's name, so that ways share a database; it is taken out of the
// envelopes again, and the hashes with it.
func playList(t *rapid.T, open storetest.Open, run, way string, orders []order, restarts, retries []int) *ended {
	ctx := context.Background()
	check := func(err error) {
		if err != nil {
			t.Fatalf("%s: %v", way, err)
		}
	}
	stream := store.Stream{Club: harbour, Name: "meet/" + run + plain(way)}
	clock := int64(clockStart)
	var s store.Store
	var l *clubs
	start := func() {
		var err error
		s, err = open()
		check(err)
		check(s.EnsureClub(ctx, store.Club{ID: harbour}))
		l = ledger.New(ledger.Clubs(), ledger.Options{
			Logs: s, Key: []byte("key"), Seed: func(string) uint64 { return 7 },
			Now: func() time.Time { return time.UnixMicro(clock) },
		})
	}
	stop := func() {
		l.Close()
		check(s.Close())
	}
	start()
	defer func() { stop() }()
	end := &ended{}
	for i, o := range orders {
		for _, at := range restarts {
			if at == i {
				stop()
				start()
			}
		}
		clock += 1_000_000
		r, err := l.Do(ctx, stream, o)
		end.Answers = append(end.Answers, fmt.Sprintf("%d %v %s %v %v", r.Seq, r.Events, r.Thing, r.Again, err))
		for _, at := range retries {
			if at == i && err == nil {
				again, err := l.Do(ctx, stream, o)
				check(err)
				if again.Seq != r.Seq || again.Head != r.Head || !again.Again {
					t.Fatalf("%s: the retry of %s is answered %+v, not %+v", way, o.ID, again, r)
				}
			}
		}
	}
	snapshot, err := l.At(ctx, stream, 0)
	check(err)
	state, err := json.Marshal(snapshot.State)
	check(err)
	end.State = string(state)
	check(s.Read(ctx, stream, 0, func(r journal.Record) error {
		end.Log = append(end.Log, string(bytes.ReplaceAll(r.Bytes, []byte(stream.String()), []byte("STREAM"))))
		return nil
	}))
	return end
}

func plain(way string) string {
	return strings.Map(func(r rune) rune {
		if r >= 'a' && r <= 'z' {
			return r
		}
		return '-'
	}, way)
}

// drawOrders draws a list of orders of every kind, some of them with an id that
// was used before.
func drawOrders(t *rapid.T) []order {
	var orders []order
	for i := range rapid.IntRange(1, 14).Draw(t, "orders") {
		n := rapid.IntRange(0, 4).Draw(t, "n")
		bench := day.BenchID(fmt.Sprintf("b%d", rapid.IntRange(1, 3).Draw(t, "bench")))
		c := rapid.SampledFrom([]club.Command{
			club.RegisterBench{Bench: day.Bench{ID: bench, Number: n, CircumferenceUM: 94_248, Marks: 1, StampNS: 1000}},
			club.RetireBench{Bench: bench},
			club.RegisterCar{Car: club.Car{ID: day.CarID(fmt.Sprintf("car-%d", n)), Number: n + i%2}},
			club.ArmPractice{Bench: bench, Number: n, RaceUS: 60_000_000},
			club.RecordPractice{
				ID: day.RunID(fmt.Sprintf("practice-%s-%d", bench, n)), Bench: bench, Number: n,
				Boot: fmt.Sprintf("%016x", n%2), Trace: fmt.Sprintf("%064x", i),
			},
			club.ErasePerson{Person: day.EntrantID(fmt.Sprintf("p%d", n))},
			club.KeepPerson{Person: day.EntrantID(fmt.Sprintf("p%d", n))},
		}).Draw(t, "command")
		id := fmt.Sprintf("order-%d", i)
		if i > 0 && rapid.IntRange(0, 5).Draw(t, "used id") == 0 {
			id = orders[rapid.IntRange(0, i-1).Draw(t, "whose")].ID
		}
		orders = append(orders, order{ID: id, Content: fmt.Appendf(nil, "%T %+v", c, c), Actor: "organiser", Command: c})
	}
	return orders
}
