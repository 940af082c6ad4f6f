package rest_test

import (
	"fmt"
	"net/http"
	"net/http/httptest"
	"path/filepath"
	"testing"
	"time"

	"github.com/labstack/echo/v4"

	"benchmeet/api/auth"
	"benchmeet/api/ledger"
	"benchmeet/api/read"
	"benchmeet/api/rest"
	"benchmeet/api/store"
	"benchmeet/api/store/sqlite"
	"benchmeet/api/view"
	"benchmeet/api/view/viewtest"
	"benchmeet/domain/day"
	"benchmeet/domain/meet"
)

// BenchmarkPublicPages is what a page of a day costs the server, from the request to the
// bytes at the socket, in a division of 24 and in one of 400, packed and not: again at
// the same position, and for the first who asks after a penalty was given. us-kB is the
// time for each kB of the page, x-small that as a multiple of the small day's, in the
// same run.
func BenchmarkPublicPages(b *testing.B) {
	small := map[string]float64{}
	for _, entries := range []int{24, 400} {
		handler, penalise := openDay(b, entries)
		for _, page := range []string{"", "/board", "/heats", "/runs", "/entries", "/divisions/band-1/standings", "/divisions/band-1/bracket"} {
			for _, how := range []string{"again", "again-packed", "after-an-event"} {
				name := fmt.Sprintf("%s%s", how, page)
				b.Run(fmt.Sprintf("entries=%d/%s", entries, name), func(b *testing.B) {
					r := httptest.NewRequest(http.MethodGet, "/api/v1/meets/spring"+page, nil)
					if how == "again-packed" {
						r.Header.Set("Accept-Encoding", "gzip")
					}
					kB := 0.0
					get := func() {
						w := socket{header: http.Header{}}
						handler.ServeHTTP(&w, r)
						if w.status != http.StatusOK {
							b.Fatalf("%s: %d", page, w.status)
						}
						kB = float64(w.sent) / 1e3
					}
					get()
					var took time.Duration
					for range b.N {
						if how == "after-an-event" {
							penalise()
						}
						began := time.Now()
						get()
						took += time.Since(began)
					}
					each := took.Seconds() * 1e6 / float64(b.N) / kB
					if entries == 24 {
						small[name] = each
					}
					b.ReportMetric(each, "us-kB")
					b.ReportMetric(each/small[name], "x-small")
				})
			}
		}
	}
}

// socket takes what a page sends.
type socket struct {
	header http.Header
	status int
	sent   int
}

func (s *socket) Header() http.Header    { return s.header }
func (s *socket) WriteHeader(status int) { s.status = status }
func (s *socket) Write(text []byte) (int, error) {
	s.sent += len(text)
	return len(text), nil
}

// openDay is a server without the network over a day in progress, and a way to give the
// first car of a heat another penalty.
func openDay(b testing.TB, entries int) (http.Handler, func()) {
	b.Helper()
	hall := viewtest.NewHall(b, 1, entries)
	s, err := sqlite.Open(b.Context(), filepath.Join(b.TempDir(), "meet.db"))
	if err != nil {
		b.Fatal(err)
	}
	b.Cleanup(func() { _ = s.Close() })
	if err := s.EnsureClub(b.Context(), store.Club{ID: "harbour"}); err != nil {
		b.Fatal(err)
	}
	stream := store.MeetStream("harbour", "spring")
	err = s.Write(b.Context(), stream, func(tx store.Tx) error { return tx.Append(b.Context(), hall.Records(stream.String())) })
	if err != nil {
		b.Fatal(err)
	}
	o := ledger.Options{Logs: s, Alone: true}
	meets, clubs := ledger.New(ledger.Meets(), o), ledger.New(ledger.Clubs(), o)
	b.Cleanup(meets.Close)
	b.Cleanup(clubs.Close)
	e := echo.New()
	err = rest.Register(e, rest.Options{
		Store: s, Meets: meets, Clubs: clubs, Tokens: auth.Tokens{Store: s, Now: time.Now}, Names: view.NewDirectory(s), Read: read.New(nil),
		Club: "harbour", Now: time.Now, Scale: 1, NamesChanged: func(string) {},
	})
	if err != nil {
		b.Fatal(err)
	}
	posted := hall.State.Programmes["band-1"].Stages[0].Rounds[2].Heats[0]
	entry := hall.State.Heats[posted].Lanes[0].Entry
	given := 0
	return e, func() {
		given++
		c := meet.Penalise{Heat: posted, Entry: entry, UM: int64(given) * 1000, Reason: day.Reason{Code: day.ReasonPower}}
		order := ledger.Order[meet.Command]{ID: fmt.Sprint("penalty-", given), Content: []byte{1}, Actor: "referee", Command: c}
		if _, err := meets.Do(b.Context(), stream, order); err != nil {
			b.Fatal(err)
		}
	}
}
