package main

import (
	"testing"

	"benchmeet/api/store"
)

// TestPlacesOfTheFeed: they follow the files that the system allows, leave a quarter of
// them to all else, and who asks for more than there can be is told at the start.
func TestPlacesOfTheFeed(t *testing.T) {
	for _, tt := range []struct {
		asked int
		files uint64
		known bool
		want  int // 0 is a refusal
	}{
		{0, 1024, true, 768},
		{0, 20_000, true, 15_000},
		{0, 1 << 30, true, 50_000},
		{0, 0, false, 6000},
		{100, 1024, true, 100},
		{60_000, 1 << 20, true, 60_000},
		{1024, 1024, true, 0},
		{1024, 0, false, 1024},
		{-1, 1024, true, 0},
	} {
		got, err := listenersWithin(tt.asked, tt.files, tt.known)
		if got != tt.want || (err != nil) != (tt.want == 0) {
			t.Errorf("%+v: %d, %v", tt, got, err)
		}
	}
}

// TestPlacesAreASetting: the server takes as many as it is told.
func TestPlacesAreASetting(t *testing.T) {
	s, err := startServer(t.Context(), serverOptions{
		Listen: "127.0.0.1:0", Data: t.TempDir(), Scale: 1, Listeners: 7, Club: store.Club{ID: homeClub},
	})
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	if s.hub.Most != 7 {
		t.Errorf("it takes %d", s.hub.Most)
	}
}
