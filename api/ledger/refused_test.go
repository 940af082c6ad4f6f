package ledger_test

import (
	"context"
	"errors"
	"fmt"
	"runtime"
	"sync"
	"testing"

	"benchmeet/api/ledger"
	"benchmeet/api/store"
	"benchmeet/api/store/sqlite"
	"benchmeet/domain/club"
	"benchmeet/domain/refusal"
)

// counting counts what a store is asked to write, and how often what it answered.
type counting struct {
	*sqlite.Store
	writes, looks int
}

func (c *counting) Answers(ctx context.Context, s store.Stream, commands []string) (map[string]store.Answer, error) {
	c.looks++
	return c.Store.Answers(ctx, s, commands)
}

func (c *counting) Write(ctx context.Context, s store.Stream, fn func(store.Tx) error) error {
	c.writes++
	return c.Store.Write(ctx, s, fn)
}

func (c *counting) WriteBatch(ctx context.Context, s store.Stream, b store.Batch) error {
	c.writes++
	return c.Store.WriteBatch(ctx, s, b)
}

// countedClubs is a ledger that alone writes to such a store.
func countedClubs(t *testing.T) (*clubs, *counting) {
	t.Helper()
	s, is := opened(t, newSQLite(t)).(*sqlite.Store)
	if !is {
		t.Fatal("this is no SQLite store")
	}
	counted := &counting{Store: s}
	o := steady(counted)
	o.Alone = true
	return newClubs(t, o), counted
}

// TestARefusalWritesNothing, where no other process can write: not even a transaction is
// opened for it. An order that was carried out before is still answered as the first
// time, though the rule would refuse it now, and one that was taken back stays so. Where
// others write too, the store is asked about each.
func TestARefusalWritesNothing(t *testing.T) {
	l, counted := countedClubs(t)
	first := do(t, l, register(1))
	renumbered := order{
		ID: "renumber", Content: []byte("renumber"), Command: club.RegisterCar{Car: club.Car{ID: "car-1", Number: 9}},
	}
	do(t, l, renumbered)
	taken := register(1) // number 1 goes to another car
	taken.ID, taken.Content = "other-car", []byte("other car")
	taken.Command = club.RegisterCar{Car: club.Car{ID: "car-2", Number: 1}}
	do(t, l, taken)
	if counted.writes != 3 {
		t.Errorf("three orders took %d transactions", counted.writes)
	}

	none := order{ID: "none", Content: []byte("none"), Command: club.RetireBench{Bench: "b9"}}
	clash := register(1)
	clash.ID = "clash"
	for _, refused := range []struct {
		order order
		code  refusal.Code
	}{{none, "no-bench"}, {clash, "car-taken"}} {
		_, err := l.Do(t.Context(), clubStream, refused.order)
		if no, is := refusal.As(err); !is || no.Code != refused.code {
			t.Errorf("%s: %v", refused.order.ID, err)
		}
	}
	if counted.writes != 3 {
		t.Errorf("two refusals took %d transactions", counted.writes-3)
	}

	again := do(t, l, register(1))
	if !again.Again || again.Seq != first.Seq {
		t.Errorf("the retry of what was carried out got %+v", again)
	}
	takenBack := none
	takenBack.ID, takenBack.Withdraw = "back", true
	if _, err := l.Do(t.Context(), clubStream, takenBack); !errors.Is(err, ledger.ErrWithdrawn) {
		t.Errorf("taken back: %v", err)
	}
	takenBack.Withdraw = false
	if _, err := l.Do(t.Context(), clubStream, takenBack); !errors.Is(err, ledger.ErrWithdrawn) {
		t.Errorf("late, after it was taken back: %v", err)
	}

	shared := newClubs(t, steady(counted))
	before := counted.writes
	if _, err := shared.Do(t.Context(), clubStream, none); err == nil || counted.writes == before {
		t.Errorf("where others write: %v, %d transactions", err, counted.writes-before)
	}
}

// TestOrdersThatComeTogetherAreOneBatch: on one processor, sixteen orders that are there at
// once are looked up together, and the next sixteen too. If the first of them had the writer
// to itself, so would each that follows, for none is answered beside another; such a server
// answers half as many. Half of them are granted to a machine that is busy.
func TestOrdersThatComeTogetherAreOneBatch(t *testing.T) {
	l, counted := countedClubs(t)
	do(t, l, register(1))
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(1))
	for turn := range 2 {
		counted.looks = 0
		start := make(chan struct{})
		var all sync.WaitGroup
		for n := range 16 {
			id := fmt.Sprintf("none-%d-%d", turn, n)
			all.Go(func() {
				<-start
				_, err := l.Do(t.Context(), clubStream, order{ID: id, Content: []byte(id), Command: club.RetireBench{Bench: "b9"}})
				if no, is := refusal.As(err); !is || no.Code != "no-bench" {
					t.Errorf("%s: %v", id, err)
				}
			})
		}
		runtime.Gosched() // all of them wait for the start
		close(start)
		all.Wait()
		if counted.looks > 8 {
			t.Errorf("turn %d: 16 orders took %d looks at what was answered before", turn, counted.looks)
		}
	}
}
