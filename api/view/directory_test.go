package view_test

import (
	"context"
	"errors"
	"testing"

	"benchmeet/api/store"
	"benchmeet/api/view"
)

// readers is a store whose people can be read, or not just now.
type readers struct {
	store.People
	away error
	read int
}

func (r *readers) AllPeople(context.Context, string) ([]store.Person, error) {
	r.read++
	return []store.Person{{ID: "p1", DisplayName: "Heron", OnScreen: true, InResults: true}}, r.away
}

// TestNamesWhileTheStoreIsAway are those that were read before, without asking for each
// screen; but not after a change, for the change may have been an erasure.
func TestNamesWhileTheStoreIsAway(t *testing.T) {
	people := &readers{away: store.ErrAway}
	d := view.NewDirectory(people)
	if _, err := d.Names(t.Context(), "harbour"); !errors.Is(err, store.ErrAway) {
		t.Errorf("names that were never read: %v", err)
	}
	people.away = nil
	if n, err := d.Names(t.Context(), "harbour"); err != nil || n.Display("p1") != "Heron" {
		t.Fatalf("%q %v", n.Display("p1"), err)
	}
	people.away, people.read = store.ErrAway, 0
	view.Expire(d, "harbour")
	for range 3 {
		if n, err := d.Names(t.Context(), "harbour"); err != nil || n.Display("p1") != "Heron" {
			t.Errorf("while the store is away: %q %v", n.Display("p1"), err)
		}
	}
	if people.read != 1 {
		t.Errorf("three screens asked the store %d times", people.read)
	}
	d.Forget("harbour")
	if _, err := d.Names(t.Context(), "harbour"); !errors.Is(err, store.ErrAway) {
		t.Errorf("after a change: %v", err)
	}
}
