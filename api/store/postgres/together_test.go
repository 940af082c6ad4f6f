package postgres

import (
	"context"
	"errors"
	"sync"
	"testing"
	"testing/synctest"
	"time"

	"github.com/google/go-cmp/cmp"

	"benchmeet/api/store"
)

// rows is a table that answers when it is let, and counts its questions.
type rows struct {
	mu        sync.Mutex
	of        map[[32]byte]string
	questions int
	away      error
	came      chan int // how many each question asks for
	let       chan struct{}
}

func newRows() *rows {
	return &rows{of: map[[32]byte]string{}, came: make(chan int), let: make(chan struct{})}
}

func (r *rows) ask(_ context.Context, hashes [][]byte) (map[[32]byte]string, error) {
	r.came <- len(hashes)
	<-r.let
	r.mu.Lock()
	defer r.mu.Unlock()
	r.questions++
	found := map[[32]byte]string{}
	for _, hash := range hashes {
		if what, there := r.of[[32]byte(hash)]; there {
			found[[32]byte(hash)] = what
		}
	}
	return found, r.away
}

// asking starts somebody's asking.
func asking(t *together[string], hash byte) chan found[string] {
	got := make(chan found[string], 1)
	go func() {
		what, err := t.find(context.Background(), [32]byte{hash})
		got <- found[string]{what, err}
	}()
	return got
}

// TestWhoWaitsIsAskedForTogether: those who come while as many questions as may be are under
// way share the next one, each gets its own answer, and what changed before it was asked is
// in it. A question that fails fails for those whom it was for, and for nobody after them.
func TestWhoWaitsIsAskedForTogether(t *testing.T) {
	table := newRows()
	both := &together[string]{ask: table.ask}
	var first []chan found[string]
	for n := range mostQuestions {
		first = append(first, asking(both, byte(n)))
		if of := <-table.came; of != 1 {
			t.Fatalf("a question for %d, of one who asked", of)
		}
	}
	var later []chan found[string]
	for n := range 40 {
		later = append(later, asking(both, byte(n)))
	}
	waits := func() int {
		both.mu.Lock()
		defer both.mu.Unlock()
		return len(both.waiting)
	}
	for until := time.Now().Add(10 * time.Second); waits() < len(later); time.Sleep(time.Millisecond) {
		if time.Now().After(until) {
			t.Fatalf("%d of %d wait", waits(), len(later))
		}
	}
	table.mu.Lock()
	for n := range 39 { // made after the first questions were sent; the last opens nothing
		table.of[[32]byte{byte(n)}] = string(rune('a' + n))
	}
	table.mu.Unlock()
	table.let <- struct{}{} // one of the first; whoever asked it asks for all who wait now
	if of := <-table.came; of != 40 {
		t.Fatalf("the next question is for %d of 40", of)
	}
	table.let <- struct{}{}
	table.let <- struct{}{}
	for n, got := range later {
		f := <-got
		switch {
		case n == 39 && !errors.Is(f.err, store.ErrNotFound):
			t.Errorf("the one that opens nothing: %+v", f)
		case n < 39 && (f.err != nil || f.what != string(rune('a'+n))):
			t.Errorf("%d: %+v", n, f)
		}
	}
	for _, got := range first {
		<-got
	}
	if table.questions != mostQuestions+1 {
		t.Errorf("%d questions", table.questions)
	}

	away := errors.New("away")
	table.away = away
	lost := asking(both, 1)
	<-table.came
	table.let <- struct{}{}
	if f := <-lost; !errors.Is(f.err, away) {
		t.Errorf("a question that failed gives %+v", f)
	}
	table.away = nil
	next := asking(both, 1)
	<-table.came
	table.let <- struct{}{}
	if f := <-next; f.err != nil || f.what != "b" {
		t.Errorf("the one after it gives %+v", f)
	}

	// Whoever goes away is not waited for, and leaves the next their answer.
	gone, stop := context.WithCancel(t.Context())
	end := make(chan error, 1)
	go func() {
		_, err := both.find(gone, [32]byte{2})
		end <- err
	}()
	<-table.came
	stop()
	if err := <-end; !errors.Is(err, context.Canceled) {
		t.Errorf("gone: %v", err)
	}
	table.let <- struct{}{}
}

// TestOneQuestionAtATime: who comes while a question goes well waits for its end, however
// many they are; where it takes long they are asked for beside it, and not before.
func TestOneQuestionAtATime(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		type question struct {
			at   time.Duration
			many int
		}
		from := time.Now()
		var mu sync.Mutex
		var asked []question
		takes := 10 * time.Millisecond
		both := &together[string]{ask: func(_ context.Context, hashes [][]byte) (map[[32]byte]string, error) {
			mu.Lock()
			asked = append(asked, question{time.Since(from), len(hashes)})
			mine := takes
			mu.Unlock()
			time.Sleep(mine)
			return map[[32]byte]string{{1}: "one"}, nil
		}}
		come := func(at time.Duration, many int) {
			time.Sleep(at - time.Since(from))
			for range many {
				go func() {
					if what, err := both.find(t.Context(), [32]byte{1}); err != nil || what != "one" {
						t.Errorf("%q, %v", what, err)
					}
				}()
			}
			synctest.Wait()
		}
		come(0, 1)
		come(3*time.Millisecond, 20)
		come(7*time.Millisecond, 20)
		come(30*time.Millisecond, 1) // nobody is asked for any more
		mu.Lock()
		takes = time.Second
		mu.Unlock()
		come(100*time.Millisecond, 1)
		come(120*time.Millisecond, 5)
		come(170*time.Millisecond, 7) // two are under way, and both may come back
		come(5*time.Second, 1)
		come(5100*time.Millisecond, 1) // beside one that takes long already
		time.Sleep(time.Minute)
		want := []question{
			{0, 1},
			{10 * time.Millisecond, 40},
			{30 * time.Millisecond, 1},
			{100 * time.Millisecond, 1},
			{150 * time.Millisecond, 5},
			{1100 * time.Millisecond, 7},
			{5 * time.Second, 1},
			{5100 * time.Millisecond, 1},
		}
		if diff := cmp.Diff(want, asked, cmp.AllowUnexported(question{})); diff != "" {
			t.Errorf("questions (-want +got):\n%s", diff)
		}
	})
}
