package storetest

import (
	"bytes"
	"testing"

	"benchmeet/api/store"
)

func testCaches(t *testing.T, d Database) {
	ctx := t.Context()
	open := d.New(t)
	s := opened(t, open)
	for _, club := range []string{harbour, "quay"} {
		must(t, s.EnsureClub(ctx, store.Club{ID: club}))
	}
	here, meet, there := store.ClubStream(harbour), store.MeetStream(harbour, "m"), store.ClubStream("quay")
	large := bytes.Repeat([]byte{0, 1, 255}, 1_000_000)
	bodies := map[store.Stream]map[string][]byte{
		here:  {"a": large, "b": {}},
		meet:  {"a": []byte("of a meet")},
		there: {"a": []byte("of another club")},
	}
	want := func(s store.Store, stream store.Stream, name string, want []byte) {
		t.Helper()
		got, err := s.Cache(ctx, stream, name)
		must(t, err)
		if !bytes.Equal(got, want) {
			t.Errorf("cache %s of %s is %d bytes, want %d others", name, stream, len(got), len(want))
		}
	}
	for stream, all := range bodies {
		for name, body := range all {
			must(t, s.PutCache(ctx, stream, name, []byte("the one before")))
			must(t, s.PutCache(ctx, stream, name, body))
		}
	}
	must(t, s.PutCache(ctx, here, "b", nil)) // as good as an empty one
	must(t, s.Close())
	s = opened(t, open)
	for stream, all := range bodies {
		for name, body := range all {
			want(s, stream, name, body)
		}
	}
	for _, c := range []struct {
		stream store.Stream
		name   string
	}{{here, "c"}, {meet, "b"}, {store.ClubStream("pier"), "a"}} {
		_, err := s.Cache(ctx, c.stream, c.name)
		wantError(t, "cache "+c.name+" of "+c.stream.String(), err, store.ErrNotFound)
	}
	wantError(t, "a cache of a club that is not here", s.PutCache(ctx, store.ClubStream("pier"), "a", nil), store.ErrNotFound)

	must(t, s.DropCaches(ctx, harbour))
	for _, stream := range []store.Stream{here, meet} {
		_, err := s.Cache(ctx, stream, "a")
		wantError(t, "a dropped cache", err, store.ErrNotFound)
	}
	want(s, there, "a", bodies[there]["a"])
	must(t, s.DropCaches(ctx, harbour))
}
