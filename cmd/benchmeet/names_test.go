package main

import (
	"compress/gzip"
	"io"
	"net/http"
	"strconv"
	"strings"
	"testing"
	"time"

	"benchmeet/api/auth"
	"benchmeet/api/gen"
)

// namedPages are the pages that show nicknames, and are kept as they were sent.
var namedPages = []string{"", "/board", "/heats", "/runs", "/entries", "/divisions/open/standings", "/divisions/open/bracket"}

// asStranger reads a page packed and without a key; one that asks too often comes again
// when it is told to.
func (w *wired) asStranger(path string) *http.Response {
	w.t.Helper()
	for {
		r, err := http.NewRequestWithContext(w.t.Context(), http.MethodGet, w.server.url()+path, nil)
		if err != nil {
			w.t.Fatal(err)
		}
		r.Header.Set("Accept-Encoding", "gzip")
		answer, err := http.DefaultClient.Do(r)
		if err != nil {
			w.t.Fatal(err)
		}
		if answer.StatusCode != http.StatusTooManyRequests {
			return answer
		}
		answer.Body.Close()
		seconds, err := strconv.Atoi(answer.Header.Get("Retry-After"))
		if err != nil || seconds < 1 || seconds > 60 {
			w.t.Fatalf("%s: to come again after %q", path, answer.Header.Get("Retry-After"))
		}
		time.Sleep(time.Duration(seconds) * time.Second)
	}
}

// shows says which of the pages hold a text, for the public and packed, and for an
// official.
func (w *wired) shows(name string) (pages []string) {
	w.t.Helper()
	for _, page := range namedPages {
		answer := w.asStranger(meetPath + page)
		from := io.Reader(answer.Body)
		var err error
		if answer.Header.Get("Content-Encoding") == "gzip" {
			if from, err = gzip.NewReader(answer.Body); err != nil {
				w.t.Fatal(err)
			}
		}
		text, err := io.ReadAll(from)
		answer.Body.Close()
		if err != nil || answer.StatusCode != http.StatusOK {
			w.t.Fatalf("%s: %d, %v", page, answer.StatusCode, err)
		}
		official := w.send(request{role: auth.Organiser, method: http.MethodGet, path: meetPath + page})
		if strings.Contains(string(text), name) || strings.Contains(string(official.body), name) {
			pages = append(pages, page)
		}
	}
	return pages
}

// TestKeptPagesForgetNames: once a name was erased or the consent to it taken back, no
// page that was sent before goes out again, packed or not, to whomever; nor, soon, from
// another server of the database.
func TestKeptPagesForgetNames(t *testing.T) {
	databases(t, func(t *testing.T, database string) {
		w := newWired(t, database)
		w.smallMeet()
		h := w.startFirstHeat()
		for i, l := range h.Lanes {
			w.sendRun(*l.Bench, *l.Armed, "00000000000000aa", int64(7000+100*i))
		}
		other := w
		if database != "" {
			other = newWired(t, database)
		}
		var entries gen.EntryList
		w.get(meetPath+"/entries", &entries)
		for i, change := range []struct{ method, body string }{
			{http.MethodPut, `{"name":"Child","display_name":"Nick 1","on_screen":false,"in_results":true,"photo":false}`},
			{http.MethodDelete, ""},
		} {
			name := "Nick 1"
			if i == 1 {
				name = "Nick 2"
			}
			for _, server := range []*wired{w, other} {
				if on := server.shows(`"` + name + `"`); len(on) < 5 {
					t.Fatalf("%s is on %q only", name, on)
				}
			}
			path := "/api/v1/people/" + *entries.Entries[i].Entrant
			w.do(change.method, path, change.body)
			if on := w.shows(`"` + name + `"`); len(on) > 0 {
				t.Errorf("after %s %s is still on %q", change.method, name, on)
			}
			deadline := time.Now().Add(5 * time.Second)
			for on := other.shows(`"` + name + `"`); len(on) > 0; on = other.shows(`"` + name + `"`) {
				if time.Now().After(deadline) {
					t.Fatalf("five seconds after %s another server shows %s on %q", change.method, name, on)
				}
			}
		}
	})
}
