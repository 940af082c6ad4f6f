package main

import (
	"bufio"
	"bytes"
	"crypto/sha256"
	"errors"
	"fmt"
	"io"
	"net/http"
	"runtime"
	"strings"
	"sync"
	"testing"
	"time"

	"benchmeet/api/auth"
	"benchmeet/domain/trace"
)

// TestLongTracesAreSentInBoundedMemory: eight strangers ask for the trace of the longest
// race at once. Each gets all of it or is told to come again, whole traces are what their
// sum says, and the server's memory does not grow with how many ask.
func TestLongTracesAreSentInBoundedMemory(t *testing.T) {
	w := newWired(t, "")
	w.smallMeet()
	h := w.startFirstHeat()
	bench, run := *h.Lanes[0].Bench, *h.Lanes[0].Armed
	// Four hours at 20,000 turns a minute, and no even ones.
	const stamps, inChunk = 4_800_000, 20_000
	for n := range stamps / inChunk {
		c := trace.Chunk{Key: trace.Key{Bench: bench, Boot: "00000000000000aa", Run: run, Number: n}}
		for i := range int64(inChunk) {
			at := int64(n)*inChunk + i
			c.Stamps = append(c.Stamps, 1_000_000+3000*at+at%7)
		}
		if n == stamps/inChunk-1 {
			c.Last = &trace.Totals{
				Chunks: n + 1, Stamps: stamps, StartSource: trace.StartBenchClock, StartUS: 1_000_000, DurationUS: 14_400_000_000, Meet: "spring",
			}
		}
		if _, err := w.server.intake.Take(t.Context(), "harbour", "box", c); err != nil {
			t.Fatal(err)
		}
	}
	want := sha256.New()
	for at := range int64(stamps) {
		if at > 0 {
			io.WriteString(want, ",")
		}
		fmt.Fprintf(want, "%d", 1_000_000+3000*at+at%7)
	}
	path := meetPath + "/runs/" + run + "/trace"
	if a := w.send(request{role: auth.Organiser, method: "GET", path: meetPath + "/runs/" + run + "/curve"}); a.status != 200 {
		t.Fatalf("the run is not recorded: %d %.200s", a.status, a.body)
	}
	runtime.GC()
	var floor runtime.MemStats
	runtime.ReadMemStats(&floor)
	most := make(chan uint64)
	stop := make(chan struct{})
	go func() {
		peak := uint64(0)
		for {
			var now runtime.MemStats
			runtime.ReadMemStats(&now)
			peak = max(peak, now.HeapInuse)
			select {
			case <-stop:
				most <- peak
				return
			case <-time.After(5 * time.Millisecond):
			}
		}
	}()
	var group sync.WaitGroup
	var mu sync.Mutex
	whole, busy := 0, 0
	for range 8 {
		group.Go(func() {
			for {
				sum, status, err := w.traced(path, [sha256.Size]byte(want.Sum(nil)))
				if err != nil {
					t.Error(err)
					return
				}
				mu.Lock()
				if status == http.StatusOK {
					whole++
				} else {
					busy++
				}
				mu.Unlock()
				if status == http.StatusOK {
					if !sum {
						t.Error("a trace is not what its sum says")
					}
					return
				}
				if status != http.StatusServiceUnavailable {
					t.Errorf("status %d", status)
					return
				}
			}
		})
	}
	group.Wait()
	close(stop)
	peak := <-most
	// The stamps of one run are 38 MB, and as JSON 54 MB: eight as they were held before are
	// 740 MB at the least.
	if grown := (int64(peak) - int64(floor.HeapInuse)) >> 20; grown > 260 {
		t.Errorf("the server grew by %d MB", grown)
	} else {
		t.Logf("the server grew by %d MB; %d whole, %d times to come again", grown, whole, busy)
	}
	if whole != 8 {
		t.Errorf("%d traces came", whole)
	}
}

// traced reads a trace without holding it, and says whether its stamps are want, by their
// SHA-256 as they stand in the answer.
func (w *wired) traced(path string, want [sha256.Size]byte) (right bool, status int, err error) {
	r, err := http.NewRequest(http.MethodGet, w.server.url()+path, nil)
	if err != nil {
		return false, 0, err
	}
	r.Header.Set("Accept-Encoding", "identity")
	res, err := http.DefaultClient.Do(r)
	if err != nil {
		return false, 0, err
	}
	defer res.Body.Close()
	if res.StatusCode != http.StatusOK {
		_, err := io.Copy(io.Discard, res.Body)
		return false, res.StatusCode, err
	}
	body, sum := bufio.NewReaderSize(res.Body, 64<<10), sha256.New()
	for before := ""; !strings.HasSuffix(before, `"stamps_us":`); {
		text, err := body.ReadString('[')
		if err != nil {
			return false, res.StatusCode, err
		}
		before = strings.TrimSuffix(text, "[")
	}
	for {
		part, err := body.ReadSlice(']')
		sum.Write(bytes.TrimSuffix(part, []byte("]")))
		if err == nil {
			break
		}
		if !errors.Is(err, bufio.ErrBufferFull) {
			return false, res.StatusCode, err
		}
	}
	_, err = io.Copy(io.Discard, body) // an answer that was cut ends in an error
	return [sha256.Size]byte(sum.Sum(nil)) == want, res.StatusCode, err
}
