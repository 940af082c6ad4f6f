package postgres

import (
	"context"
	"runtime"
	"sync"
	"time"

	"benchmeet/api/store"
)

// One question of a together is under way, for two halves cost nearly twice as much. Where
// it takes long, as when it is lost on its way, another goes beside it.
const (
	mostQuestions = 2
	takesLong     = 50 * time.Millisecond
)

// together finds what secrets open, by their hashes. Every request asks, and where many do,
// a trip to the database for each costs as much as what was to be done. So whoever comes
// while a question is under way waits for the next, which is one for all of them. Nothing is
// kept: a question is sent after everybody whom it answers had come, so a key that another
// server ended a moment ago opens nothing here.
type together[T any] struct {
	// ask looks the hashes up; one that opens nothing has no entry.
	ask func(ctx context.Context, hashes [][]byte) (map[[32]byte]T, error)

	mu      sync.Mutex // guards what follows
	waiting []waiter[T]
	asking  int // questions under way
	long    int // those of them that take long
}

// waiter is somebody who asked for a hash.
type waiter[T any] struct {
	hash   [32]byte
	answer chan found[T]
}

// found is an answer to one of them.
type found[T any] struct {
	what T
	err  error
}

// find returns what a hash opens, or store.ErrNotFound.
func (t *together[T]) find(ctx context.Context, hash [32]byte) (what T, err error) {
	w := waiter[T]{hash, make(chan found[T], 1)}
	t.mu.Lock()
	t.waiting = append(t.waiting, w)
	t.begin()
	t.mu.Unlock()
	select {
	case f := <-w.answer:
		return f.what, f.err
	case <-ctx.Done():
		return what, ctx.Err()
	}
}

// begin asks for those who wait, unless a question is under way that goes well: whoever asked
// it asks for them next. The caller holds mu.
func (t *together[T]) begin() {
	if len(t.waiting) > 0 && t.asking == t.long && t.asking < mostQuestions {
		t.asking++
		go t.run()
	}
}

// run asks for as long as anybody waits.
func (t *together[T]) run() {
	runtime.Gosched() // who comes in the same moment is asked for too
	for {
		waiting := t.next()
		if len(waiting) == 0 {
			return
		}
		hashes := make([][]byte, len(waiting))
		for i := range waiting {
			hashes[i] = waiting[i].hash[:]
		}
		of, err := t.timed(hashes)
		for _, w := range waiting {
			f := found[T]{err: err}
			if err == nil {
				var there bool
				if f.what, there = of[w.hash]; !there {
					f.err = store.ErrNotFound
				}
			}
			w.answer <- f
		}
	}
}

// timed asks, and has another begin where that takes long. The question is everybody's: it
// does not end with the patience of one.
func (t *together[T]) timed(hashes [][]byte) (map[[32]byte]T, error) {
	var long, over bool // guarded by mu
	timer := time.AfterFunc(takesLong, func() {
		t.mu.Lock()
		defer t.mu.Unlock()
		if !over {
			long = true
			t.long++
			t.begin()
		}
	})
	defer func() {
		timer.Stop()
		t.mu.Lock()
		defer t.mu.Unlock()
		if over = true; long {
			t.long--
		}
	}()
	return t.ask(context.Background(), hashes)
}

// next takes all who wait; without any, the question ends.
func (t *together[T]) next() []waiter[T] {
	t.mu.Lock()
	defer t.mu.Unlock()
	waiting := t.waiting
	t.waiting = nil
	if len(waiting) == 0 {
		t.asking--
	}
	return waiting
}
