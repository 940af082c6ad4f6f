// Package pages serves the pages of the three faces over HTTP, with the headers that
// keep a browser to them.
package pages

import (
	"io/fs"
	"mime"
	"net/http"
	"path"
	"regexp"
	"strings"
)

// Server serves the built pages, packed as the build packed them where the
// browser takes that. An address without a file is a page of one of the three
// faces, chosen by its first part.
func Server(pages fs.FS) http.Handler {
	files := packedFiles{pages}
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		h := w.Header()
		h.Set("X-Content-Type-Options", "nosniff")
		name := strings.TrimPrefix(r.URL.Path, "/")
		if !strings.HasPrefix(name, "assets/") { // what a page is made of has no policy of its own, and is asked for by the dozen
			h.Set("Referrer-Policy", "no-referrer")
			h.Set("Content-Security-Policy", policy(r.Host))
		}
		if files.has(name) {
			if strings.HasPrefix(name, "assets/") {
				h.Set("Cache-Control", "public, max-age=31536000, immutable") // their names hold a hash
			}
			files.serve(w, r, name)
			return
		}
		h.Set("Cache-Control", "no-cache")
		// What a page is made of is no page: a script that is not there must not come as one.
		if strings.HasPrefix(name, "assets/") || name == OfflineWorker {
			http.NotFound(w, r)
			return
		}
		if files.has(OfflineWorker) {
			h.Set(offlineHeader, "1")
		}
		for _, page := range []string{face(name), "placeholder.html"} {
			if files.has(page) {
				h.Set("Vary", "Accept-Language, Cookie")
				page = files.spokenPage(r, page)
				files.serve(w, r, page)
				return
			}
		}
		http.NotFound(w, r)
	})
}

// policy keeps a page to the host that it came from: it loads, asks, listens and sends
// there alone, stands in no other page, and has no plug-ins and no base of its own. The
// live feed is named too, for browsers to which 'self' is no WebSocket; a host that could
// not stand in a header is left to 'self'.
func policy(host string) string {
	connect := "'self'"
	if plainHost.MatchString(host) {
		connect += " ws://" + host + " wss://" + host
	}
	return "default-src 'self'; img-src 'self' data:; style-src 'self' 'unsafe-inline'; connect-src " + connect +
		"; base-uri 'none'; form-action 'self'; frame-ancestors 'none'; object-src 'none'"
}

var plainHost = regexp.MustCompile(`^[A-Za-z0-9][A-Za-z0-9.-]{0,252}(:[0-9]{1,5})?$`)

// OfflineWorker is the script by which a browser that came over TLS opens the bench page
// without the server. It takes itself away where a page comes without offlineHeader.
const (
	OfflineWorker = "bench-offline.js"
	offlineHeader = "Benchmeet-Offline"
)

// face is the page that an address belongs to.
func face(path string) string {
	switch first, _, _ := strings.Cut(path, "/"); first {
	case "desk", "bench":
		return first + ".html"
	}
	return "screen.html"
}

// packedFiles serves files that may have packed copies beside them.
type packedFiles struct{ files fs.FS }

// The packed copies that a build may put beside a file, the smallest first.
// Browsers take the first one over TLS and on this machine only.
var packings = []struct{ coding, suffix string }{{"br", ".br"}, {"gzip", ".gz"}}

func (p packedFiles) has(name string) bool {
	f, err := fs.Stat(p.files, name)
	return err == nil && !f.IsDir()
}

func (p packedFiles) serve(w http.ResponseWriter, r *http.Request, name string) {
	h := w.Header()
	if strings.HasSuffix(name, ".webmanifest") {
		h.Set("Content-Type", "application/manifest+json")
	}
	said := false
	for _, packing := range packings {
		if !p.has(name + packing.suffix) {
			continue
		}
		if !said {
			h.Add("Vary", "Accept-Encoding")
			said = true
		}
		if !takes(r, packing.coding) {
			continue
		}
		if h.Get("Content-Type") == "" {
			h.Set("Content-Type", mime.TypeByExtension(path.Ext(name)))
		}
		h.Set("Content-Encoding", packing.coding)
		r = r.Clone(r.Context())
		r.Header.Del("Range") // a part of a packed file unpacks to nothing
		name += packing.suffix
		break
	}
	http.ServeFileFS(w, r, p.files, name)
}

// takes says whether a browser unpacks a coding.
func takes(r *http.Request, coding string) bool {
	for _, offer := range strings.Split(r.Header.Get("Accept-Encoding"), ",") {
		name, weight, _ := strings.Cut(strings.TrimSpace(offer), ";")
		weight = strings.ReplaceAll(weight, " ", "")
		if strings.EqualFold(strings.TrimSpace(name), coding) && weight != "q=0" && weight != "q=0.0" {
			return true
		}
	}
	return false
}
