package fleet_test

import (
	"context"
	"errors"
	"maps"
	"slices"
	"strings"
	"sync"
	"testing"
	"testing/synctest"
	"time"

	"github.com/google/go-cmp/cmp"

	"benchmeet/api/fleet"
	"benchmeet/api/store"
)

// table is a fleet in memory, which can be away.
type table struct {
	mu    sync.Mutex
	epoch int64
	all   map[string]store.Server
	away  bool
}

var errAway = errors.New("away")

func newTable() *table { return &table{epoch: 1, all: map[string]store.Server{}} }

func (t *table) do(what func()) error {
	t.mu.Lock()
	defer t.mu.Unlock()
	if t.away {
		return errAway
	}
	what()
	return nil
}

func (t *table) EnterServer(_ context.Context, s store.Server) error {
	return t.do(func() {
		t.epoch++
		s.Beat += t.all[s.ID].Beat
		t.all[s.ID] = s
	})
}

func (t *table) list() store.Servers {
	out := store.Servers{Epoch: t.epoch}
	for _, id := range slices.Sorted(maps.Keys(t.all)) {
		out.All = append(out.All, t.all[id])
	}
	return out
}

func (t *table) BeatServer(_ context.Context, id string) (out store.Servers, err error) {
	err = t.do(func() {
		out = t.list()
		if s, there := t.all[id]; there {
			s.Beat++
			t.all[id] = s
		}
	})
	return out, err
}

func (t *table) Servers(context.Context) (out store.Servers, err error) {
	err = t.do(func() { out = t.list() })
	return out, err
}

func (t *table) BuryServer(_ context.Context, id string, beat int64) error {
	return t.do(func() {
		if t.all[id].Beat == beat {
			delete(t.all, id)
		}
	})
}

func (t *table) LeaveServer(_ context.Context, id string) error {
	return t.do(func() { delete(t.all, id) })
}

func (t *table) setAway(away bool) {
	t.mu.Lock()
	defer t.mu.Unlock()
	t.away = away
}

func (t *table) count() int {
	t.mu.Lock()
	defer t.mu.Unlock()
	return len(t.all)
}

const every = 5 * time.Second

// member enters and beats until the function is called, which lets it die.
func member(t *testing.T, in *table, reads map[string]int) (m *fleet.Member, kill func()) {
	t.Helper()
	m, err := fleet.Enter(t.Context(), fleet.Options{Store: in, Reads: reads})
	if err != nil {
		t.Fatal(err)
	}
	ctx, stop := context.WithCancel(t.Context())
	ended := make(chan struct{})
	go func() {
		m.Keep(ctx)
		close(ended)
	}()
	return m, func() {
		stop()
		<-ended
	}
}

var (
	older = map[string]int{"RunRecorded": 1, "CarChanged": 1, "HeatCalled": 1}
	newer = map[string]int{"RunRecorded": 2, "CarChanged": 1, "HeatCalled": 1, "HallLit": 1}
	// both is what a newer one knows that all read: no HallLit.
	both = map[string]int{"RunRecorded": 1, "CarChanged": 1, "HeatCalled": 1, "HallLit": 0}
)

func wants(t *testing.T, when string, m *fleet.Member, reads map[string]int) {
	t.Helper()
	if diff := cmp.Diff(reads, m.Common().Reads); diff != "" {
		t.Errorf("%s (-want +got):\n%s", when, diff)
	}
}

// TestAlone: a server knows that there is no other from its first look on, until another has
// come in and it looks again, or beats; and again when that one is gone.
func TestAlone(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		in := newTable()
		m, kill := member(t, in, newer)
		defer kill()
		alone := func(when string, want bool) {
			t.Helper()
			if m.Common().Alone != want {
				t.Errorf("%s it is alone: %v", when, !want)
			}
		}
		alone("by itself", true)
		guest, err := fleet.Guest(t.Context(), fleet.Options{Store: in, Reads: newer})
		if err != nil || guest.Common().Alone {
			t.Errorf("a guest beside a server is alone: %v", err)
		}
		other, killOther := member(t, in, newer)
		if other.Common().Alone {
			t.Error("who comes second is alone")
		}
		if err := m.Look(t.Context()); err != nil {
			t.Fatal(err)
		}
		alone("beside another", false)
		time.Sleep(every + time.Second)
		alone("a beat later", false)
		killOther()
		if err := other.Leave(); err != nil {
			t.Fatal(err)
		}
		time.Sleep(every + time.Second)
		alone("when the other has left", true)
		_, killThird := member(t, in, newer)
		defer killThird()
		time.Sleep(every + time.Second)
		alone("a beat after a third", false)
	})
}

// TestCommon is what the oldest reads, as long as it is there.
func TestCommon(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		in := newTable()
		old, killOld := member(t, in, older)
		wants(t, "alone", old, nil)
		m, kill := member(t, in, newer)
		defer kill()
		wants(t, "beside an older one", m, both)
		wants(t, "the older one reads all that it writes", old, nil)
		killOld()
		if err := old.Leave(); err != nil {
			t.Fatal(err)
		}
		time.Sleep(every + time.Second)
		wants(t, "after the older one has left", m, nil)
		again, killAgain := member(t, in, older)
		defer killAgain()
		time.Sleep(every + time.Second)
		wants(t, "after an older one has come back", m, both)
		if m.Common().Epoch != again.Common().Epoch {
			t.Errorf("they know the others as of %d and %d", m.Common().Epoch, again.Common().Epoch)
		}
	})
}

// TestDead: who was killed is counted for half a minute, and no longer; who lives always.
func TestDead(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		in := newTable()
		_, killOld := member(t, in, older)
		_, killLiving := member(t, in, both)
		m, kill := member(t, in, newer)
		defer kill()
		time.Sleep(time.Hour)
		wants(t, "an hour later", m, both)
		killOld()
		killLiving()
		time.Sleep(5 * every)
		wants(t, "a moment after", m, both)
		time.Sleep(3 * every)
		wants(t, "half a minute after", m, nil)
		if n := in.count(); n != 1 {
			t.Errorf("%d servers are left", n)
		}
	})
}

// TestAway: while the store is away nobody is found dead by it, however long that is, and
// who asked last knows what it knew.
func TestAway(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		in := newTable()
		_, killOld := member(t, in, older)
		defer killOld()
		m, kill := member(t, in, newer)
		defer kill()
		time.Sleep(time.Minute + time.Second)
		in.setAway(true)
		time.Sleep(time.Hour)
		wants(t, "while it is away", m, both)
		if err := m.Look(t.Context()); !errors.Is(err, errAway) {
			t.Errorf("a look gives %v", err)
		}
		in.setAway(false)
		for range 10 {
			time.Sleep(time.Second)
			wants(t, "when it is back", m, both)
		}
		if n := in.count(); n != 2 {
			t.Errorf("%d servers are left", n)
		}
	})
}

// TestTakenForDead comes in again by itself, and what it reads counts again.
func TestTakenForDead(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		in := newTable()
		old, killOld := member(t, in, older)
		defer killOld()
		m, kill := member(t, in, newer)
		defer kill()
		before := old.Common().Epoch
		in.mu.Lock()
		maps.DeleteFunc(in.all, func(_ string, s store.Server) bool { return s.Reads["HallLit"] == 0 })
		in.mu.Unlock()
		time.Sleep(2*every + time.Second)
		wants(t, "after it came in again", m, both)
		if in.count() != 2 || old.Common().Epoch <= before {
			t.Errorf("%d servers, known as of %d, before %d", in.count(), old.Common().Epoch, before)
		}
	})
}

// TestGuest knows what all read, and nobody waits for it.
func TestGuest(t *testing.T) {
	in := newTable()
	if _, err := fleet.Enter(t.Context(), fleet.Options{Store: in, Reads: older}); err != nil {
		t.Fatal(err)
	}
	m, err := fleet.Guest(t.Context(), fleet.Options{Store: in, Reads: newer})
	if err != nil {
		t.Fatal(err)
	}
	wants(t, "a guest", m, both)
	if n := in.count(); n != 1 || m.Common().Epoch != 2 {
		t.Errorf("%d servers, as of %d", n, m.Common().Epoch)
	}
	in.setAway(true)
	for name, begin := range map[string]func(context.Context, fleet.Options) (*fleet.Member, error){"guest": fleet.Guest, "server": fleet.Enter} {
		if _, err := begin(t.Context(), fleet.Options{Store: in}); err == nil || !strings.Contains(err.Error(), "away") {
			t.Errorf("a %s without a store: %v", name, err)
		}
	}
}
