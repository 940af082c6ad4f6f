package main

import (
	"context"
	"errors"
	"sync/atomic"
	"testing"
	"time"

	"benchmeet/api/auth"
	"benchmeet/api/store"
)

// away is a database that goes away in a server's first moments.
type away struct {
	store.Store
	left    atomic.Int32 // how many questions it does not answer
	notices chan store.Stream
}

var errAway = errors.New("the connection was closed")

func (a *away) Changes(context.Context) (<-chan store.Stream, error) {
	if a.left.Add(-1) >= 0 {
		return nil, errAway
	}
	return a.notices, nil
}

func (a *away) AllTokens(context.Context, string) ([]store.Token, error) {
	if a.left.Add(-1) >= 0 {
		return nil, errAway
	}
	return []store.Token{{ID: "first", Role: string(auth.Organiser)}}, nil
}

// TestADatabaseThatGoesAwayInTheFirstMoments does not end the server: it is asked again,
// for the notices of other servers and for the sign-ins that there are.
func TestADatabaseThatGoesAwayInTheFirstMoments(t *testing.T) {
	a := &away{notices: make(chan store.Stream, 1)}
	s := &server{store: a, beside: newBeside(), options: serverOptions{Log: discard}}
	t.Cleanup(func() {
		s.beside.stop()
		s.beside.group.Wait()
	})
	a.left.Store(2)
	heard := s.changes(s.beside.ctx)
	want := store.MeetStream("harbour", "spring")
	a.notices <- want
	select {
	case got := <-heard:
		if got != want {
			t.Errorf("heard of %v", got)
		}
	case <-time.After(4 * followEvery):
		t.Error("no notice came when the database was back")
	}
	a.left.Store(2)
	if _, made, err := s.signInPatiently(t.Context(), false); made || err != nil {
		t.Errorf("the sign-in: made is %v, %v", made, err)
	}
	if a.left.Load() >= 0 {
		t.Error("it was not asked again")
	}
}
