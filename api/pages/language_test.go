package pages_test

import (
	"net/http"
	"net/http/httptest"
	"testing"
	"testing/fstest"

	"benchmeet/api/pages"
)

// TestAPageBeginsInTheReadersLanguage: as was chosen on the device, else as the browser wants,
// as far as there is a page for it; and caches are told what it hangs on.
func TestAPageBeginsInTheReadersLanguage(t *testing.T) {
	h := pages.Server(fstest.MapFS{
		"screen.html": {Data: []byte("own")}, "screen.de.html": {Data: []byte("German")},
		"bench.html": {Data: []byte("own")},
	})
	for _, tt := range []struct{ name, path, chosen, wanted, body string }{
		{"nothing said", "/m/spring", "", "", "own"},
		{"German wanted", "/m/spring", "", "de-AT,de;q=0.9,en;q=0.8", "German"},
		{"German wanted after English", "/m/spring", "", "en-GB,de;q=0.9", "own"},
		{"German wanted after one that is not there", "/m/spring", "", "fr,de;q=0.5", "German"},
		{"German by its weight", "/m/spring", "", "en;q=0.4,de;q=0.5", "German"},
		{"German not wanted", "/m/spring", "", "de;q=0", "own"},
		{"German chosen", "/m/spring", "de", "en", "German"},
		{"English chosen", "/m/spring", "en", "de", "own"},
		{"one chosen that is not there", "/m/spring", "fr", "de", "own"},
		{"no language at all chosen", "/m/spring", "../x", "de", "German"},
		{"nonsense wanted", "/m/spring", "", "-,;q=z", "own"},
		{"no page in it", "/bench/b1", "de", "de", "own"},
	} {
		r := httptest.NewRequest(http.MethodGet, tt.path, nil)
		r.Header.Set("Accept-Language", tt.wanted)
		if tt.chosen != "" {
			r.AddCookie(&http.Cookie{Name: pages.LanguageCookie, Value: tt.chosen})
		}
		out := httptest.NewRecorder()
		h.ServeHTTP(out, r)
		if out.Body.String() != tt.body {
			t.Errorf("%s: %q, want %q", tt.name, out.Body, tt.body)
		}
		if out.Header().Get("Vary") != "Accept-Language, Cookie" {
			t.Errorf("%s: caches are told %q", tt.name, out.Header().Get("Vary"))
		}
	}
}
