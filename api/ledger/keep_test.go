package ledger_test

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"runtime"
	"slices"
	"strings"
	"sync"
	"testing"

	"benchmeet/api/ledger"
	"benchmeet/api/store"
	"benchmeet/domain/club"
	"benchmeet/domain/day"
	"benchmeet/domain/journal"
)

// often keeps a state after every few events, in small parts.
func often(version string) ledger.Model[club.State, club.Command, club.Event] {
	m := ledger.Clubs()
	m.Keep = &ledger.Keep[club.State]{
		Version: version, Every: 4, Unpack: club.Unpack,
		Pack: func(s *club.State, from int) ([]byte, [][]byte) { return s.Pack(from, 3) },
	}
	return m
}

// keeping makes a ledger that keeps its states in the store.
func keeping(t testing.TB, version string, s store.Store, logs store.Logs) *clubs {
	o := steady(logs)
	o.Caches = s
	l := ledger.New(often(version), o)
	t.Cleanup(l.Close)
	return l
}

// practise is an order for the n-th practice run.
func practise(n int) order {
	e := practised(n)
	return order{
		ID: fmt.Sprintf("practise-%d", n), Content: fmt.Append(nil, n), Actor: "b1",
		Command: club.RecordPractice{ID: e.ID, Bench: e.Bench, Boot: e.Boot, Trace: e.Trace, Figures: e.Figures},
	}
}

// begin gives so many orders, cars among them.
func begin(t testing.TB, l *clubs, from, to int) {
	for n := from; n < to; n++ {
		if n%5 == 0 {
			do(t, l, register(n+1))
			continue
		}
		do(t, l, practise(n))
	}
}

// refolded is the state that the whole log folds to, as JSON with its lists.
func refolded(t testing.TB, logs store.Logs) string {
	t.Helper()
	l := ledger.New(ledger.Clubs(), ledger.Options{Logs: logs})
	defer l.Close()
	return shown(t, now(t, l).State)
}

func shown(t testing.TB, s *club.State) string {
	return stateJSON(t, s) + stateJSON(t, s.Newest(1<<20)) + stateJSON(t, s.History("car-1", 1<<20))
}

// firstRead notes from where a log was read first.
type firstRead struct {
	store.Logs
	mu    sync.Mutex
	after []int64
}

func (f *firstRead) Read(ctx context.Context, s store.Stream, after int64, each func(journal.Record) error) error {
	f.mu.Lock()
	f.after = append(f.after, after)
	f.mu.Unlock()
	return f.Logs.Read(ctx, s, after, each)
}

// TestKeptStates: a start reads no more of the log than what came since its state
// was kept, and whatever became of what was kept, the state is the one that the
// log gives, to the byte. What could not be used is kept anew.
func TestKeptStates(t *testing.T) {
	damage := func(name string, change func([]byte) []byte) func(testing.TB, store.Store) {
		return func(t testing.TB, s store.Store) {
			text, err := s.Cache(t.Context(), clubStream, name)
			must(t, err)
			must(t, s.PutCache(t.Context(), clubStream, name, change(slices.Clone(text))))
		}
	}
	flip := func(at int) func([]byte) []byte {
		return func(b []byte) []byte { b[(at+len(b))%len(b)] ^= 1; return b }
	}
	half := func(b []byte) []byte { return b[:len(b)/2] }
	none := func([]byte) []byte { return nil }
	for _, c := range []struct {
		name   string
		spoil  func(testing.TB, store.Store)
		unused bool
	}{
		{"nothing happened", func(testing.TB, store.Store) {}, false},
		{"all was deleted", func(t testing.TB, s store.Store) { must(t, s.DropCaches(t.Context(), harbour)) }, true},
		{"a bit of the sum", damage("state", flip(0)), true},
		{"a bit of the head", damage("state", flip(-1)), true},
		{"a bit in the middle of the head", damage("state", flip(200)), true},
		{"half a head", damage("state", half), true},
		{"an empty head", damage("state", none), true},
		{"a bit of a part", damage("state/000001", flip(40)), true},
		{"half a part", damage("state/000000", half), true},
		{"an empty part", damage("state/000000", none), true},
		{"two parts exchanged", func(t testing.TB, s store.Store) {
			a, err := s.Cache(t.Context(), clubStream, "state/000000")
			must(t, err)
			b, err := s.Cache(t.Context(), clubStream, "state/000001")
			must(t, err)
			must(t, s.PutCache(t.Context(), clubStream, "state/000000", b))
			must(t, s.PutCache(t.Context(), clubStream, "state/000001", a))
		}, true},
		{"the state of another club", func(t testing.TB, s store.Store) { ofAnother(t, s, 20) }, true},
		{"ahead of the log", func(t testing.TB, s store.Store) { ofAnother(t, s, 40) }, true},
		{"by another version", func(t testing.TB, s store.Store) {
			must(t, s.DropCaches(t.Context(), harbour))
			l := keeping(t, "another", s, s)
			now(t, l)
			l.Settle()
			l.Close()
		}, true},
	} {
		t.Run(c.name, func(t *testing.T) {
			onBoth(t, func(t *testing.T, s store.Store) {
				l := keeping(t, "one", s, s)
				begin(t, l, 0, 24)
				l.Settle()
				l.Close()
				c.spoil(t, s)
				for start := range 2 { // the second by what the first has kept
					from := &firstRead{Logs: s}
					l := keeping(t, "one", s, from)
					if got, want := shown(t, now(t, l).State), refolded(t, s); got != want {
						t.Errorf("start %d: got %s\nwant %s", start, got, want)
					}
					l.Settle()
					unused := c.unused && start == 0
					if unused != slices.Contains(from.after, 0) || !unused && from.after[0] < 15 {
						t.Errorf("start %d: the log was read after %v", start, from.after)
					}
					begin(t, l, 24+3*start, 27+3*start) // and goes on from there
					if got, want := shown(t, now(t, l).State), refolded(t, s); got != want {
						t.Errorf("start %d, further on: got %s\nwant %s", start, got, want)
					}
					l.Close()
				}
			})
		})
	}
}

// ofAnother puts what was kept of another database in the place of this one's.
func ofAnother(t testing.TB, s store.Store, orders int) {
	other := opened(t, newSQLite(t))
	l := keeping(t, "one", other, other)
	do(t, l, register(700))
	begin(t, l, 0, orders)
	l.Settle()
	l.Close()
	name := "state"
	for n := 0; ; n++ {
		text, err := other.Cache(t.Context(), clubStream, name)
		if errors.Is(err, store.ErrNotFound) && n > 4 {
			return
		}
		must(t, err)
		must(t, s.PutCache(t.Context(), clubStream, name, text))
		name = fmt.Sprintf("state/%06d", n)
	}
}

// TestKeptByTwoProcesses: several servers on one database keep states beside each
// other, and each start is by one of them.
func TestKeptByTwoProcesses(t *testing.T) {
	s := opened(t, newPostgres(t))
	a, b := keeping(t, "one", s, s), keeping(t, "one", s, s)
	var both sync.WaitGroup
	for i, l := range []*clubs{a, b} {
		both.Go(func() { begin(t, l, 100*i, 100*i+30) })
	}
	both.Wait()
	a.Settle()
	b.Settle()
	a.Close()
	b.Close()
	from := &firstRead{Logs: s}
	if got, want := shown(t, now(t, keeping(t, "one", s, from)).State), refolded(t, s); got != want {
		t.Errorf("got %s\nwant %s", got, want)
	}
	if slices.Contains(from.after, 0) {
		t.Errorf("nothing that was kept is used: %v", from.after)
	}
}

// TestKeptNamesNobody: what is kept is made of the log alone, so an erasure has
// nothing to look for there.
func TestKeptNamesNobody(t *testing.T) {
	onBoth(t, func(t *testing.T, s store.Store) {
		bodies := &copied{Store: s}
		o := steady(s)
		o.Caches = bodies
		l := ledger.New(often("one"), o)
		for n := range 12 {
			person := order{
				ID: fmt.Sprintf("person-%d", n), Actor: "organiser", Command: club.KeepPerson{Person: day.EntrantID(fmt.Sprintf("p-%d", n))},
				People: []store.Person{{ID: fmt.Sprintf("p-%d", n), Name: "Seabright Quill", DisplayName: "Comet"}},
			}
			do(t, l, person)
			do(t, l, practise(n))
		}
		l.Settle()
		l.Close()
		if bodies.n == 0 {
			t.Fatal("nothing was kept")
		}
		for _, name := range []string{"Seabright", "Comet"} {
			if bytes.Contains(bodies.text.Bytes(), []byte(name)) {
				t.Errorf("%s stands in what is kept", name)
			}
		}
	})
}

// copied copies what is put into a store's caches.
type copied struct {
	store.Store
	mu   sync.Mutex
	text bytes.Buffer
	n    int
}

func (c *copied) PutCache(ctx context.Context, s store.Stream, name string, body []byte) error {
	c.mu.Lock()
	defer c.mu.Unlock()
	c.n++
	c.text.Write(body)
	return c.Store.PutCache(ctx, s, name, body)
}

// TestKeepingHoldsNothingUp: orders are answered while a state is being written,
// and one that cannot be written fails none.
func TestKeepingHoldsNothingUp(t *testing.T) {
	s := opened(t, newSQLite(t))
	slow := &stuck{Store: s, free: make(chan struct{})}
	o := steady(s)
	o.Caches = slow
	l := ledger.New(often("one"), o)
	begin(t, l, 0, 30) // would never end if they waited for it
	close(slow.free)
	l.Close()
	if !slow.asked {
		t.Fatal("nothing was to be kept")
	}
	if got := refolded(t, s); !strings.Contains(got, `"seq":30`) {
		t.Errorf("got %s", got)
	}
}

// stuck writes nothing before it is freed, and fails then.
type stuck struct {
	store.Store
	free  chan struct{}
	asked bool
}

func (s *stuck) PutCache(context.Context, store.Stream, string, []byte) error {
	s.asked = true
	<-s.free
	return store.ErrConflict
}

// TestCloseWaitsForNoParts: a stop in the middle of years of runs that are being
// kept comes after the part under way, and the next start keeps them all.
func TestCloseWaitsForNoParts(t *testing.T) {
	s := opened(t, newSQLite(t))
	l := newClubs(t, steady(s)) // keeps nothing
	begin(t, l, 0, 40)
	l.Close()
	first := &gate{Store: s, came: make(chan struct{}), free: make(chan struct{})}
	o := steady(s)
	o.Caches = first
	l = ledger.New(often("one"), o)
	now(t, l)
	<-first.came
	closed := make(chan struct{})
	go func() {
		l.Close()
		close(closed)
	}()
	for !ledger.Closing(l) {
		runtime.Gosched()
	}
	close(first.free)
	<-closed
	if first.n != 1 {
		t.Errorf("%d parts were kept after the stop", first.n)
	}
	l = keeping(t, "one", s, s)
	now(t, l)
	l.Settle()
	l.Close()
	from := &firstRead{Logs: s}
	if got, want := shown(t, now(t, keeping(t, "one", s, from)).State), refolded(t, s); got != want || slices.Contains(from.after, 0) {
		t.Errorf("read after %v: got %s\nwant %s", from.after, got, want)
	}
}

// gate holds the first part up until it is free.
type gate struct {
	store.Store
	came, free chan struct{}
	n          int
}

func (g *gate) PutCache(ctx context.Context, s store.Stream, name string, body []byte) error {
	if g.n++; g.n == 1 {
		close(g.came)
		<-g.free
	}
	return g.Store.PutCache(ctx, s, name, body)
}
