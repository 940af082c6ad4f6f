package main

import (
	"io"
	"net/http"
	"slices"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"github.com/google/uuid"
)

// posting is writers who post one order after the other, each with an id of its own.
type posting struct {
	writers int
	secret  string
	body    func(n int) string // of a writer's n-th order, from 0
}

// posts is how many posts a second are answered in a turn, each with this status and this
// text in it.
func (p posting) posts(b *testing.B, url func(writer int) string, status int, says string) float64 {
	client := &http.Client{Transport: &http.Transport{MaxIdleConnsPerHost: p.writers}}
	defer client.CloseIdleConnections()
	const lasts = time.Second
	began := time.Now()
	var done atomic.Int64
	var all sync.WaitGroup
	for w := range p.writers {
		to := url(w)
		all.Go(func() {
			for n := 0; time.Since(began) < lasts; n++ {
				r, err := http.NewRequest(http.MethodPost, to, strings.NewReader(p.body(n)))
				if err != nil {
					b.Error(err)
					return
				}
				r.Header.Set("Content-Type", "application/json")
				r.Header.Set("Authorization", "Bearer "+p.secret)
				r.Header.Set("Idempotency-Key", uuid.Must(uuid.NewV7()).String())
				res, err := client.Do(r)
				if err != nil {
					b.Error(err)
					return
				}
				text, err := io.ReadAll(res.Body)
				res.Body.Close()
				if err != nil || res.StatusCode != status || !strings.Contains(string(text), says) {
					b.Errorf("%d %s %v", res.StatusCode, text, err)
					return
				}
				done.Add(1)
			}
		})
	}
	all.Wait()
	return float64(done.Load()) / time.Since(began).Seconds()
}

// reportRatios reports the median of some turns, with least and most.
func reportRatios(b *testing.B, ratios []float64) {
	slices.Sort(ratios)
	b.ReportMetric(0, "ns/op")
	b.ReportMetric(ratios[len(ratios)/2], "x")
	b.ReportMetric(ratios[0], "x-least")
	b.ReportMetric(ratios[len(ratios)-1], "x-most")
}
