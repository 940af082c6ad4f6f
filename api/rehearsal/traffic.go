package rehearsal

import (
	"io"
	"net/http"
	"slices"
	"strings"
	"sync"
	"time"
)

// Traffic counts what is asked of a server, and how long each answer takes until its end.
// It is the way of requests to the server; a failed try counts as one of its kind.
type Traffic struct {
	By http.RoundTripper

	mu   sync.Mutex
	took map[Kind][]time.Duration
}

// Kind is a kind of request.
type Kind string

// The kinds of requests that a day has.
const (
	Orders Kind = "orders" // whatever changes the day
	Chunks Kind = "chunks" // stamps of a bench
	Reads  Kind = "reads"
)

// kindOf is the kind of a request.
func kindOf(r *http.Request) Kind {
	switch {
	case r.Method == http.MethodGet:
		return Reads
	case strings.HasSuffix(r.URL.Path, "/chunks"):
		return Chunks
	}
	return Orders
}

// RoundTrip implements http.RoundTripper.
func (t *Traffic) RoundTrip(r *http.Request) (*http.Response, error) {
	began, kind := time.Now(), kindOf(r)
	res, err := t.By.RoundTrip(r)
	if err != nil {
		t.note(kind, time.Since(began))
		return nil, err
	}
	res.Body = &timed{res.Body, sync.OnceFunc(func() { t.note(kind, time.Since(began)) })}
	return res, nil
}

func (t *Traffic) note(kind Kind, took time.Duration) {
	t.mu.Lock()
	defer t.mu.Unlock()
	if t.took == nil {
		t.took = map[Kind][]time.Duration{}
	}
	t.took[kind] = append(t.took[kind], took)
}

// timed notes when a body was read to its end, or was closed.
type timed struct {
	io.ReadCloser
	over func()
}

func (b *timed) Read(p []byte) (int, error) {
	n, err := b.ReadCloser.Read(p)
	if err != nil {
		b.over()
	}
	return n, err
}

func (b *timed) Close() error {
	b.over()
	return b.ReadCloser.Close()
}

// Answered is how many requests of a kind were answered, and how quickly.
type Answered struct {
	Count int     `json:"count"`
	PerS  float64 `json:"per_s"`
	P50MS float64 `json:"p50_ms"`
	P99MS float64 `json:"p99_ms"`
}

// Answered is what was asked in a time.
func (t *Traffic) Answered(within time.Duration) map[Kind]Answered {
	t.mu.Lock()
	defer t.mu.Unlock()
	out := map[Kind]Answered{}
	for _, kind := range []Kind{Orders, Chunks, Reads} {
		all := slices.Sorted(slices.Values(t.took[kind]))
		a := Answered{Count: len(all), PerS: float64(len(all)) / within.Seconds()}
		if len(all) > 0 {
			a.P50MS = float64(all[(len(all)-1)/2].Microseconds()) / 1000
			a.P99MS = float64(all[(len(all)-1)*99/100].Microseconds()) / 1000
		}
		out[kind] = a
	}
	return out
}
