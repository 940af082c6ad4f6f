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
}

// listEvery is how often the store is asked again where other processes write
// to it; they may have begun a stream.
const listEvery = 2 * time.Second

// Streams lists the streams of a club with their heads, by name. A bench asks for
// it several times a second, so the store is asked once, and then only where
// other processes write to it: what this one writes it knows.
func (l *Ledger[S, C, E]) Streams(ctx context.Context, club string) ([]store.StreamHead, error) {
	l.mu.Lock()
	known := l.lists[club]
	fresh := known != nil && !known.listed.IsZero() && (l.alone || time.Since(known.listed) < listEvery)
	l.mu.Unlock()
	if !fresh {
		at := time.Now() // before the look: what is noticed from now on is looked for again
		heads, err := l.logs.Streams(ctx, club)
		if err != nil {
			return nil, err
		}
		l.mu.Lock()
		known = l.listOf(club)
		for _, h := range heads {
			known.take(h)
		}
		known.listed = at
		l.mu.Unlock()
	}
	l.mu.Lock()
	defer l.mu.Unlock()
	return slices.SortedFunc(maps.Values(known.heads), func(a, b store.StreamHead) int {
		return strings.Compare(a.Stream.Name, b.Stream.Name)
	}), nil
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
