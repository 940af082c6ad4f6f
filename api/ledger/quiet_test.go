package ledger_test

import (
	"context"
	"errors"
	"fmt"
	"sync/atomic"
	"testing"
	"time"

	"benchmeet/api/ledger"
	"benchmeet/api/store"
	"benchmeet/domain/club"
	"benchmeet/domain/journal"
)

// counted counts what is asked of a store, and may change what is read.
type counted struct {
	store.Logs
	reads, lists atomic.Int64
	change       func(*journal.Record)
}

func (c *counted) Read(ctx context.Context, s store.Stream, after int64, each func(journal.Record) error) error {
	c.reads.Add(1)
	return c.Logs.Read(ctx, s, after, func(r journal.Record) error {
		if c.change != nil {
			c.change(&r)
		}
		return each(r)
	})
}

func (c *counted) Streams(ctx context.Context, club string) ([]store.StreamHead, error) {
	c.lists.Add(1)
	return c.Logs.Streams(ctx, club)
}

func listed(t *testing.T, l *clubs) string {
	t.Helper()
	heads, err := l.Streams(t.Context(), harbour)
	must(t, err)
	out := ""
	for _, h := range heads {
		out += fmt.Sprintf("%s:%d ", h.Stream.Name, h.Head.Seq)
	}
	return out
}

// TestListIsAskedForOnce: what this process writes it knows; where it is alone,
// the store is never asked again, and where it is not, a notice has it asked.
func TestListIsAskedForOnce(t *testing.T) {
	onBoth(t, func(t *testing.T, s store.Store) {
		c := &counted{Logs: s}
		o := steady(c)
		o.Alone = true
		l := newClubs(t, o)
		do(t, l, register(1))
		for n := 2; n < 50; n++ {
			if got, want := listed(t, l), fmt.Sprintf("club:%d ", n-1); got != want {
				t.Fatalf("got %q, want %q", got, want)
			}
			do(t, l, register(n))
		}
		if n := c.lists.Load(); n != 1 {
			t.Errorf("the store was asked %d times", n)
		}
	})
}

func TestListSeesWhatOthersBegan(t *testing.T) {
	a, b, _ := twoProcesses(t)
	if got := listed(t, b); got != "" {
		t.Fatalf("got %q", got)
	}
	ctx, stop := context.WithCancel(t.Context())
	defer stop()
	notices := make(chan store.Stream)
	go b.Follow(ctx, notices, time.Hour)
	do(t, a, register(1))
	notices <- clubStream
	notices <- store.ClubStream("pier") // when this is taken, the one before was worked off
	if got := listed(t, b); got != "club:1 " {
		t.Errorf("got %q", got)
	}
}

// TestAloneLooksForNothing: where no other process writes, nobody polls the store.
func TestAloneLooksForNothing(t *testing.T) {
	c := &counted{Logs: opened(t, databases[0].new(t))}
	o := steady(c)
	o.Alone = true
	l := newClubs(t, o)
	do(t, l, register(1))
	before := c.reads.Load()
	ctx, stop := context.WithTimeout(t.Context(), 200*time.Millisecond)
	defer stop()
	go l.Follow(ctx, nil, time.Millisecond)
	_, err := l.At(ctx, clubStream, 5)
	var behind *ledger.BehindError
	if !errors.As(err, &behind) || behind.Now != 1 || behind.Never {
		t.Errorf("got %v", err)
	}
	if n := c.reads.Load() - before; n != 0 {
		t.Errorf("the store was read %d times", n)
	}
}

// TestFarAheadIsRefusedAtOnce, without waiting for what nobody can have been told.
func TestFarAheadIsRefusedAtOnce(t *testing.T) {
	l := newClubs(t, steady(opened(t, databases[0].new(t))))
	do(t, l, register(1))
	ctx, stop := context.WithTimeout(t.Context(), 20*time.Second)
	defer stop()
	_, err := l.At(ctx, clubStream, 1<<53-1)
	var behind *ledger.BehindError
	if !errors.As(err, &behind) || !behind.Never || ctx.Err() != nil {
		t.Errorf("got %v", err)
	}
}

// TestIdleStatesLeaveMemory, and come back as they were; who watches keeps one.
func TestIdleStatesLeaveMemory(t *testing.T) {
	l := newClubs(t, steady(opened(t, databases[0].new(t))))
	do(t, l, register(1))
	_, stop := l.Watch(clubStream)
	if l.Unload(); ledger.Loaded(l) != 1 {
		t.Error("a state that is watched was dropped")
	}
	stop()
	for deadline := time.Now().Add(20 * time.Second); ledger.Loaded(l) != 0; time.Sleep(time.Millisecond) {
		if l.Unload(); time.Now().After(deadline) { // the writer that has answered may not rest yet
			t.Fatal("an idle state stays in memory")
		}
	}
	do(t, l, register(2))
	if s := now(t, l); s.Head.Seq != 2 || s.State.Cars.Len() != 2 {
		t.Errorf("it came back with %d cars at %d", s.State.Cars.Len(), s.Head.Seq)
	}
}

// TestDamageIsToldApart from a store that fails, for a record that was changed and
// for one that the program cannot take, and it is not looked for at each question.
func TestDamageIsToldApart(t *testing.T) {
	for name, change := range map[string]func(*journal.Record){
		"changed":     func(r *journal.Record) { r.Bytes = append([]byte{}, r.Bytes...); r.Bytes[len(r.Bytes)/2] ^= 1 },
		"not to fold": nil,
	} {
		t.Run(name, func(t *testing.T) {
			s := opened(t, databases[0].new(t))
			do(t, newClubs(t, steady(s)), register(1))
			c := &counted{Logs: s}
			model := ledger.Clubs()
			if name == "changed" {
				c.change = change
			} else {
				model.Decode = func(string, int, []byte) (club.Event, error) { panic("an event without a case") }
			}
			l := ledger.New(model, steady(c))
			t.Cleanup(l.Close)
			for range 20 {
				if _, err := l.At(t.Context(), clubStream, 0); !errors.Is(err, ledger.ErrDamaged) {
					t.Fatalf("got %v", err)
				}
				if _, err := l.Do(t.Context(), clubStream, register(2)); !errors.Is(err, ledger.ErrDamaged) {
					t.Fatalf("an order: %v", err)
				}
			}
			if n := c.reads.Load(); n != 1 {
				t.Errorf("the damaged log was read %d times", n)
			}
		})
	}
}
