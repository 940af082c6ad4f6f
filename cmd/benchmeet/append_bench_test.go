package main

import (
	"fmt"
	"math/rand/v2"
	"net/http"
	"strings"
	"testing"

	"benchmeet/api/gen"
	"benchmeet/api/store/postgres/pgtest"
)

// How BenchmarkAppendHTTP measures.
const (
	appendTurns   = 11
	appendMeets   = 16
	appendWriters = 64
)

// BenchmarkAppendHTTP is orders of 64 writers to 16 meets of one server on PostgreSQL,
// over HTTP, beside a bare server that decodes the same JSON and writes the same rows, one
// trip a batch and a queue a stream (tools/floors). Everybody shares the two cores. x is
// how many a second as a multiple of the floor's, by the median of eleven turns, with least
// and most.
//
// It measures so much whatever -benchtime says.
func BenchmarkAppendHTTP(b *testing.B) {
	v := &victim{t: b, base: fmt.Sprintf("http://127.0.0.1:%d", freePort(b))}
	v.args = []string{
		"serve", "--listen", strings.TrimPrefix(v.base, "http://"), "--data", b.TempDir(), "--database", pgtest.Database(b),
	}
	v.secret = v.start("--new-sign-in")
	b.Cleanup(v.kill)
	floor := beginFloor(b, nil, "-database", pgtest.Database(b), "-streams", fmt.Sprint(appendMeets), "rows")

	h, rng := newHistory(b, v.secret, v.base), rand.New(rand.NewPCG(17, 2))
	for m := range appendMeets {
		meet := fmt.Sprint("m-", m)
		h.give(b.Context(), rng, "POST", meet, "-", planned(meet))
		h.give(b.Context(), rng, "PUT", meet, "/divisions/open", openDivision())
	}
	for w := range appendWriters {
		id := fmt.Sprint("e-", w)
		h.give(b.Context(), rng, "POST", fmt.Sprint("m-", w%appendMeets), "/entries", gen.TakeEntry{
			Id: &id, Division: "open", StartNumber: w + 1,
			Person: &gen.PersonBody{Name: fmt.Sprintf("Child %d Quay", w), DisplayName: fmt.Sprintf("Nick %d", w), OnScreen: true, InResults: true},
		})
	}
	var ratios []float64
	for turn := range appendTurns + 1 {
		post := posting{writers: appendWriters, secret: v.secret, body: func(n int) string { return fmt.Sprintf(`{"there":%t}`, n%2 == 0) }}
		ours := post.posts(b, func(w int) string {
			return fmt.Sprintf("%s/api/v1/meets/m-%d/entries/e-%d/check-in", v.base, w%appendMeets, w)
		}, http.StatusOK, `"seq":`)
		bare := post.posts(b, func(w int) string { return fmt.Sprintf("%s/order?stream=%d", floor, w%appendMeets) }, http.StatusOK, `"seq":`)
		b.Logf("turn %d: %.0f orders/s, the floor %.0f", turn, ours, bare)
		if turn > 0 { // the first warms up
			ratios = append(ratios, ours/bare)
		}
	}
	reportRatios(b, ratios)
}
