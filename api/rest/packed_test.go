package rest_test

import (
	"bytes"
	"compress/gzip"
	"io"
	"net/http"
	"net/http/httptest"
	"testing"
)

// TestPagesArePackedOnce: what a page shows is the same packed and not, on a day that is
// large enough for each of them to be packed.
func TestPagesArePackedOnce(t *testing.T) {
	handler, _ := openDay(t, 200)
	get := func(page, accept string) *httptest.ResponseRecorder {
		r := httptest.NewRequest(http.MethodGet, "/api/v1/meets/spring"+page, nil)
		r.Header.Set("Accept-Encoding", accept)
		w := httptest.NewRecorder()
		handler.ServeHTTP(w, r)
		if w.Code != http.StatusOK {
			t.Fatalf("%s: %d %s", page, w.Code, w.Body)
		}
		return w
	}
	for _, page := range []string{
		"", "/board", "/heats", "/runs", "/entries", "/day-plan", "/divisions/band-1/standings", "/divisions/band-1/bracket",
	} {
		plain, packed := get(page, "identity"), get(page, "gzip")
		if plain.Body.Len() < 4096 || packed.Header().Get("Content-Encoding") != "gzip" {
			t.Errorf("%q: %d bytes, sent as %q", page, plain.Body.Len(), packed.Header().Get("Content-Encoding"))
			continue
		}
		unpack, err := gzip.NewReader(packed.Body)
		if err != nil {
			t.Errorf("%q: %v", page, err)
			continue
		}
		if once, err := io.ReadAll(unpack); err != nil || !bytes.Equal(once, plain.Body.Bytes()) {
			t.Errorf("%q: unpacked once it begins with %.40q, not %.40q: %v", page, once, plain.Body, err)
		}
	}
}
