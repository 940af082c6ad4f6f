package main

import (
	"encoding/json"
	"net/http"
	"os/exec"
	"testing"

	"benchmeet/api/gen"
)

// BenchmarkJSONOrder is orders of a meet over HTTP that a rule refuses, so that nothing
// is written, beside a bare handler that decodes the same JSON strictly and answers in
// JSON (tools/floors): the way of an order through sign-in, decoding, ledger and answer,
// its durability aside. Server and floor have one core, the 16 clients the other; x is how
// many a second as a multiple of the floor's, by the median of five turns, with least and
// most.
//
// It measures so much whatever -benchtime says.
func BenchmarkJSONOrder(b *testing.B) {
	if _, err := exec.LookPath("taskset"); err != nil {
		b.Skip("taskset is not there: it keeps server and clients on cores of their own")
	}
	onCore(b, 1)
	h := newFullHall(b, 1, 24)
	floor := beginFloor(b, coreZero, "json")
	var heats gen.HeatList
	if err := json.Unmarshal(h.give(given{"GET", "/meets/spring/heats", ""}), &heats); err != nil {
		b.Fatal(err)
	}
	order := h.base + "/api/v1/meets/spring/heats/" + heats.Heats[0].Id + "/call-off"
	var ratios []float64
	for turn := range feedTurns + 1 {
		post := posting{writers: 16, secret: h.secret, body: func(int) string { return `{"reason":{"code":"power"}}` }}
		ours := post.posts(b, func(int) string { return order }, http.StatusConflict, `"code":"not-called"`)
		bare := post.posts(b, func(int) string { return floor + "/order" }, http.StatusOK, `"seq":1`)
		b.Logf("turn %d: %.0f orders/s, the floor %.0f", turn, ours, bare)
		if turn > 0 { // the first warms up
			ratios = append(ratios, ours/bare)
		}
	}
	reportRatios(b, ratios)
}
