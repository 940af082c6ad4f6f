package main

import (
	"fmt"
	"net/http"
	"net/netip"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"benchmeet/tools/crowd"
)

// BenchmarkFeedOrders is real orders of a day of 24 entries to screens that show the call
// board, over HTTP and SQLite on disk, beside a bare broadcast server that writes and
// syncs each post first, with frames of the same length (tools/floors). Server and floor
// have one core, this process with all screens the other. x-… are the server's times as
// multiples of the floor's, by the medians of five turns, with least and most: until an
// order is at half of the screens of a turn, at 99 of 100, and until it is answered; and
// how many deliveries a second, where the next order follows when all have the last.
//
// It measures so much whatever -benchtime says.
func BenchmarkFeedOrders(b *testing.B) {
	if _, err := exec.LookPath("taskset"); err != nil {
		b.Skip("taskset is not there: it keeps server and screens on cores of their own")
	}
	onCore(b, 1)
	for _, screens := range []int{1000, 5000} {
		b.Run(fmt.Sprintf("screens=%d", screens), func(b *testing.B) { feedOrders(b, screens) })
	}
}

// How it measures.
const (
	feedTurns  = 5
	feedOrder  = 10 // orders in a turn
	boardTopic = "/api/v1/meets/spring/live?topics=board"
)

func feedOrders(b *testing.B, screens int) {
	h := newFullHall(b, 1, 24)
	next := h.orders()
	for range 6 { // a heat is over; the round has twelve
		h.give(next())
	}
	size := len(h.give(given{"GET", "/meets/spring/board", ""}))
	server := watched(b, h.base, boardTopic, screens)
	at := beginFloor(b, coreZero, "-frame", fmt.Sprint(size), "-sync", filepath.Join(b.TempDir(), "orders"), "gorilla")
	floor := watched(b, at, "/live", screens)
	ratios := map[string][]float64{}
	for turn := range feedTurns + 1 {
		bare := floor.turn(b, func() {
			res, err := http.Post(floor.base+"/go", "application/json", strings.NewReader(strings.Repeat("x", 300)))
			if err != nil {
				b.Fatal(err)
			}
			res.Body.Close()
		})
		ours := server.turn(b, func() { h.give(next()) })
		b.Logf("turn %d: %+v; the floor %+v", turn, ours, bare)
		if turn == 0 {
			continue // it warms up
		}
		ratios["p50"] = append(ratios["p50"], ours.half/bare.half)
		ratios["p99"] = append(ratios["p99"], ours.most/bare.most)
		ratios["answer"] = append(ratios["answer"], ours.answer/bare.answer)
		ratios["speed"] = append(ratios["speed"], bare.all/ours.all)
	}
	b.ReportMetric(0, "ns/op")
	b.ReportMetric(float64(size), "frame-bytes")
	for name, all := range ratios {
		slices.Sort(all)
		b.ReportMetric(all[feedTurns/2], "x-"+name)
		b.ReportMetric(all[0], "x-"+name+"-least")
		b.ReportMetric(all[feedTurns-1], "x-"+name+"-most")
	}
}

// screens are listeners of one server.
type screens struct {
	base string
	all  *crowd.Crowd
	n    int
}

func watched(b *testing.B, base, path string, n int) *screens {
	at, err := netip.ParseAddrPort(strings.TrimPrefix(base, "http://"))
	if err != nil {
		b.Fatal(err)
	}
	all, err := crowd.Open(at, path, n)
	if err != nil {
		b.Fatal(err)
	}
	b.Cleanup(all.Close)
	return &screens{base, all, n}
}

// times are those of a turn, in ms: until an order is at half of all screens and at 99 of
// 100, until it is answered, and for all of the turn.
type times struct{ half, most, answer, all float64 }

// turn gives orders one after the other, each when every screen has the last.
func (s *screens) turn(b *testing.B, order func()) times {
	if err := s.all.Drain(200 * time.Millisecond); err != nil {
		b.Fatal(err)
	}
	_, sent := s.all.Frames()
	var arrived, answered []float64
	began := time.Now()
	for n := range feedOrder {
		from := time.Now()
		since := func() float64 { return float64(time.Since(from).Microseconds()) / 1000 }
		done := make(chan float64, 1)
		go func() { order(); done <- since() }()
		if err := s.all.Await(sent+n+1, 30*time.Second, func() { arrived = append(arrived, since()) }); err != nil {
			b.Fatal(err)
		}
		answered = append(answered, <-done)
	}
	all := float64(time.Since(began).Microseconds()) / 1000
	slices.Sort(arrived)
	slices.Sort(answered)
	return times{arrived[len(arrived)/2], arrived[len(arrived)*99/100], answered[len(answered)/2], all}
}
