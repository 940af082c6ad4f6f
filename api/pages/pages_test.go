package pages_test

import (
	"io"
	"maps"
	"net/http"
	"net/http/httptest"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"benchmeet/api/pages"
)

// TestPagesArePacked: each browser gets the smallest copy that it unpacks, with
// the type of the plain one, and a page without copies as it is.
func TestPagesArePacked(t *testing.T) {
	h := pages.Server(fstest.MapFS{
		"assets/a.js":    {Data: []byte("plain")},
		"assets/a.js.gz": {Data: []byte("gz")},
		"assets/a.js.br": {Data: []byte("br")},
		"screen.html":    {Data: []byte("page")},
		"screen.html.gz": {Data: []byte("page gz")},
		"icon.svg":       {Data: []byte("<svg/>")},
	})
	for _, tt := range []struct{ path, accept, body, coding, kind string }{
		{"/assets/a.js", "", "plain", "", "javascript"},
		{"/assets/a.js", "gzip, deflate", "gz", "gzip", "javascript"},
		{"/assets/a.js", "gzip, deflate, br, zstd", "br", "br", "javascript"},
		{"/assets/a.js", "br;q=0, gzip;q=0.5", "gz", "gzip", "javascript"},
		{"/m/spring", "gzip, br", "page gz", "gzip", "text/html"},
		{"/icon.svg", "gzip, br", "<svg/>", "", "image/svg"},
	} {
		r := httptest.NewRequest(http.MethodGet, tt.path, nil)
		r.Header.Set("Accept-Encoding", tt.accept)
		r.Header.Set("Range", "bytes=0-") // of a packed copy there are no parts
		if tt.coding == "" {
			r.Header.Del("Range")
		}
		out := httptest.NewRecorder()
		h.ServeHTTP(out, r)
		res := out.Result()
		body, _ := io.ReadAll(res.Body)
		if string(body) != tt.body || res.Header.Get("Content-Encoding") != tt.coding ||
			!strings.Contains(res.Header.Get("Content-Type"), tt.kind) || res.StatusCode != http.StatusOK {
			t.Errorf("%s for %q: %d %q %v", tt.path, tt.accept, res.StatusCode, body, res.Header)
		}
		if (tt.path != "/icon.svg") != slices.Contains(res.Header.Values("Vary"), "Accept-Encoding") {
			t.Errorf("%s: caches are told %q", tt.path, res.Header.Values("Vary"))
		}
	}
}

// TestAMissingScriptIsNoPage: and pages say whether there is one that opens them offline.
func TestAMissingScriptIsNoPage(t *testing.T) {
	with := fstest.MapFS{"bench.html": {Data: []byte("page")}, "screen.html": {Data: []byte("page")}, "bench-offline.js": {Data: []byte("worker")}}
	without := fstest.MapFS{"bench.html": {Data: []byte("page")}, "screen.html": {Data: []byte("page")}}
	get := func(files fstest.MapFS, path string) *http.Response {
		out := httptest.NewRecorder()
		pages.Server(files).ServeHTTP(out, httptest.NewRequest(http.MethodGet, path, nil))
		return out.Result()
	}
	for path, want := range map[string]int{"/assets/gone.js": 404, "/bench-offline.js": 404, "/bench/b1": 200, "/elsewhere": 200} {
		if got := get(without, path).StatusCode; got != want {
			t.Errorf("%s: %d", path, got)
		}
	}
	if get(with, "/bench-offline.js").StatusCode != http.StatusOK || get(with, "/bench/b1").Header.Get("Benchmeet-Offline") == "" {
		t.Error("the worker is not offered")
	}
	if get(without, "/bench/b1").Header.Get("Benchmeet-Offline") != "" {
		t.Error("a worker is offered that is not there")
	}
}

// TestPagesKeepToTheirHost: a page asks, listens and sends where it came from and nowhere
// else, whatever the request calls the host.
func TestPagesKeepToTheirHost(t *testing.T) {
	h := pages.Server(fstest.MapFS{"screen.html": {Data: []byte("page")}})
	for host, connect := range map[string]string{
		"hall.local:8080":             "'self' ws://hall.local:8080 wss://hall.local:8080",
		"192.0.2.7":                   "'self' ws://192.0.2.7 wss://192.0.2.7",
		"[2001:db8::1]:8080":          "'self'",
		"a; script-src 'unsafe-eval'": "'self'",
		"a b":                         "'self'",
		"*":                           "'self'",
		"":                            "'self'",
	} {
		r := httptest.NewRequest(http.MethodGet, "/m/spring", nil)
		r.Host = host
		out := httptest.NewRecorder()
		h.ServeHTTP(out, r)
		got := map[string]string{}
		for part := range strings.SplitSeq(out.Header().Get("Content-Security-Policy"), ";") {
			name, of, _ := strings.Cut(strings.TrimSpace(part), " ")
			got[name] = of
		}
		want := map[string]string{
			"default-src": "'self'", "img-src": "'self' data:", "style-src": "'self' 'unsafe-inline'", "connect-src": connect,
			"base-uri": "'none'", "form-action": "'self'", "frame-ancestors": "'none'", "object-src": "'none'",
		}
		if !maps.Equal(got, want) {
			t.Errorf("%q: %v, want %v", host, got, want)
		}
	}
}
