package ledger

import (
	"context"
	"maps"
	"slices"
	"strings"
	"time"

	"benchmeet/api/store"
)

// list is which streams a club has, as far as this process knows. It is guarded
// by the ledger's mutex.
type list struct {
	heads  map[store.Stream]store.StreamHead
	listed time.Time // when the store was asked; zero is never, or not since a notice
	whole  bool      // all streams of some moment are in it
}

// listWithin is how long a list that is known may take to be looked at again: a hall that
// looks at its board does not wait for what is only newer.
const listWithin = time.Second

// listEvery is how often the store is asked again where other processes write
// to it; they may have begun a stream.
const listEvery = 2 * time.Second

// Streams lists the streams of a club with their heads, by name. A bench asks for
// it several times a second, so the store is asked once, and then only where
// other processes write to it: what this one writes it knows. While the store does not
// answer the list is as it was before.
func (l *Ledger[S, C, E]) Streams(ctx context.Context, club string) ([]store.StreamHead, error) {
	l.mu.Lock()
	known := l.lists[club]
	whole := known != nil && known.whole
	fresh := known != nil && !known.listed.IsZero() && (l.alone || time.Since(known.listed) < listEvery)
	l.mu.Unlock()
	if !fresh {
		at := time.Now() // before the look: what is noticed from now on is looked for again
		heads, err := l.look(ctx, club, whole)
		l.mu.Lock()
		known = l.listOf(club)
		if err != nil && !known.whole {
			l.mu.Unlock()
			return nil, err
		}
		for _, h := range heads {
			known.take(h)
		}
		known.listed, known.whole = at, true
		l.mu.Unlock()
	}
	l.mu.Lock()
	defer l.mu.Unlock()
	return slices.SortedFunc(maps.Values(known.heads), func(a, b store.StreamHead) int {
		return strings.Compare(a.Stream.Name, b.Stream.Name)
	}), nil
}

// look asks the store, in a moment where the answer is only newer.
func (l *Ledger[S, C, E]) look(ctx context.Context, club string, whole bool) ([]store.StreamHead, error) {
	if whole {
		short, stop := context.WithTimeout(ctx, listWithin)
		defer stop()
		ctx = short
	}
	return l.logs.Streams(ctx, club)
}

// listOf finds or makes a club's list. The caller holds mu.
func (l *Ledger[S, C, E]) listOf(club string) *list {
	if l.lists[club] == nil {
		l.lists[club] = &list{heads: map[store.Stream]store.StreamHead{}}
	}
	return l.lists[club]
}

// moved notes where a stream has come to.
func (l *Ledger[S, C, E]) moved(h store.StreamHead) {
	if h.Head.Seq == 0 {
		return
	}
	l.mu.Lock()
	defer l.mu.Unlock()
	l.listOf(h.Stream.Club).take(h)
}

// take notes a head unless a newer one is known.
func (k *list) take(h store.StreamHead) {
	if h.Head.Seq > k.heads[h.Stream].Head.Seq {
		k.heads[h.Stream] = h
	}
}
