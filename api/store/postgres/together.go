package postgres

import (
	"context"
	"runtime"
	"sync"

	"benchmeet/api/store"
)

// mostQuestions is how many questions of one together are under way at most: a second goes
// on where the first is lost on its way.
const mostQuestions = 2

// together finds what secrets open, by their hashes. Every request asks, and where many do,
// a trip to the database for each costs as much as what was to be done. So whoever comes
// while questions are under way waits for the next, which is one for all of them. Nothing is
// kept: a question is sent after everybody whom it answers had come, so a key that another
// server ended a moment ago opens nothing here.
type together[T any] struct {
	// ask looks the hashes up; one that opens nothing has no entry.
	ask func(ctx context.Context, hashes [][]byte) (map[[32]byte]T, error)

	mu      sync.Mutex // guards what follows
	waiting []waiter[T]
	asking  int // questions under way
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
	if t.asking < mostQuestions {
		t.asking++
		go t.run()
	}
	t.mu.Unlock()
	select {
	case f := <-w.answer:
		return f.what, f.err
	case <-ctx.Done():
		return what, ctx.Err()
	}
}

// run asks for as long as anybody waits. The question is everybody's: it does not end with
// the patience of one.
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
		of, err := t.ask(context.Background(), hashes)
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
