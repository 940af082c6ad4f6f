package main

import (
	"encoding/json"
	"io"
	"net/http"
	"os/exec"
	"slices"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"github.com/google/uuid"

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
		ours := posts(b, order, h.secret, http.StatusConflict, `"code":"not-called"`)
		bare := posts(b, floor+"/order", h.secret, http.StatusOK, `"seq":1`)
		b.Logf("turn %d: %.0f orders/s, the floor %.0f", turn, ours, bare)
		if turn > 0 { // the first warms up
			ratios = append(ratios, ours/bare)
		}
	}
	slices.Sort(ratios)
	b.ReportMetric(0, "ns/op")
	b.ReportMetric(ratios[feedTurns/2], "x")
	b.ReportMetric(ratios[0], "x-least")
	b.ReportMetric(ratios[feedTurns-1], "x-most")
}

// posts is how many posts a second are answered in a turn, each with this status and
// this text in it.
func posts(b *testing.B, url, secret string, status int, says string) float64 {
	client := &http.Client{Transport: &http.Transport{MaxIdleConnsPerHost: 16}}
	defer client.CloseIdleConnections()
	const lasts = time.Second
	began := time.Now()
	var done atomic.Int64
	var all sync.WaitGroup
	for range 16 {
		all.Go(func() {
			for time.Since(began) < lasts {
				r, err := http.NewRequest(http.MethodPost, url, strings.NewReader(`{"reason":{"code":"power"}}`))
				if err != nil {
					b.Error(err)
					return
				}
				r.Header.Set("Content-Type", "application/json")
				r.Header.Set("Authorization", "Bearer "+secret)
				r.Header.Set("Idempotency-Key", uuid.Must(uuid.NewV7()).String())
				res, err := client.Do(r)
				if err != nil {
					b.Error(err)
					return
				}
				text, _ := io.ReadAll(res.Body)
				res.Body.Close()
				if res.StatusCode != status || !strings.Contains(string(text), says) {
					b.Errorf("%d %s", res.StatusCode, text)
					return
				}
				done.Add(1)
			}
		})
	}
	all.Wait()
	return float64(done.Load()) / time.Since(began).Seconds()
}
