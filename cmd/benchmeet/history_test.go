package main

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"io"
	"math/rand/v2"
	"net/http"
	"sync"
	"testing"
	"time"

	"github.com/google/uuid"

	"benchmeet/api/gen"
	"benchmeet/domain/journal"
)

// history is every order that was given, with all that was said of it. Its orders go to
// any of some servers, and again until one acknowledges them, as phones do it.
type history struct {
	t      testing.TB
	bases  []string
	secret string
	http   *http.Client

	mu     sync.Mutex
	orders map[string]*told
	tries  int
}

// told is an order and its receipts.
type told struct {
	meet, what string
	receipts   []gen.Receipt
}

func newHistory(t testing.TB, secret string, bases ...string) *history {
	return &history{
		t: t, bases: bases, secret: secret, orders: map[string]*told{},
		http: &http.Client{Timeout: 5 * time.Second, Transport: &http.Transport{MaxIdleConnsPerHost: 128}},
	}
}

// give gives an order until it is acknowledged. Now and then it is sent twice at once, or
// once more after its receipt, to whichever server.
func (h *history) give(ctx context.Context, rng *rand.Rand, method, meet, path string, body any) {
	id := uuid.Must(uuid.NewV7()).String()
	at := "/api/v1/meets"
	if path != "-" {
		at += "/" + meet + path
	}
	g := &told{meet: meet, what: method + " " + at}
	h.mu.Lock()
	h.orders[id] = g
	h.mu.Unlock()
	var text []byte
	if body != nil {
		var err error
		if text, err = json.Marshal(body); err != nil {
			h.t.Error(err)
			return
		}
	}
	try := func(base string) bool {
		receipt, known := h.send(ctx, method, base+at, id, text)
		if known {
			h.mu.Lock()
			g.receipts = append(g.receipts, receipt)
			h.mu.Unlock()
		}
		return known
	}
	if rng.IntN(16) == 0 {
		var both sync.WaitGroup
		for _, base := range h.bases {
			both.Go(func() { try(base) })
		}
		both.Wait()
	}
	for !try(h.bases[rng.IntN(len(h.bases))]) {
		if ctx.Err() != nil {
			h.t.Errorf("%s was never acknowledged", g.what)
			return
		}
		time.Sleep(20 * time.Millisecond)
	}
	if rng.IntN(8) == 0 {
		try(h.bases[rng.IntN(len(h.bases))])
	}
}

// send sends once and says whether the order is acknowledged.
func (h *history) send(ctx context.Context, method, url, id string, body []byte) (receipt gen.Receipt, known bool) {
	h.mu.Lock()
	h.tries++
	h.mu.Unlock()
	r, err := http.NewRequestWithContext(ctx, method, url, bytes.NewReader(body))
	if err != nil {
		h.t.Error(err)
		return receipt, false
	}
	if body != nil {
		r.Header.Set("Content-Type", "application/json")
	}
	r.Header.Set("Idempotency-Key", id)
	r.Header.Set("Authorization", "Bearer "+h.secret)
	res, err := h.http.Do(r)
	if err != nil {
		return receipt, false // the server was killed, or is away
	}
	defer res.Body.Close()
	text, err := io.ReadAll(res.Body)
	switch {
	case err != nil:
		return receipt, false
	case res.StatusCode == http.StatusServiceUnavailable, res.StatusCode == http.StatusInsufficientStorage:
		return receipt, false
	case res.StatusCode >= 300:
		h.t.Errorf("%s %s: %d %s", method, url, res.StatusCode, text)
		return receipt, false
	}
	if err := json.Unmarshal(text, &receipt); err != nil {
		h.t.Errorf("%s: %v: %s", url, err, text)
		return receipt, false
	}
	return receipt, true
}

// check holds the history against a meet's log, as one server tells it: a chain without a
// gap, each order acknowledged everywhere at one and the same place, and there once.
func (h *history) check(meet string, log []byte) {
	h.t.Helper()
	events, byOrder := chainOf(h.t, meet, log)
	own := 0
	h.mu.Lock()
	defer h.mu.Unlock()
	for id, g := range h.orders {
		if g.meet != meet {
			continue
		}
		for _, r := range g.receipts {
			seqs := byOrder[id]
			if len(r.Events) == 0 || len(seqs) != len(r.Events) || seqs[len(seqs)-1] != r.Seq {
				h.t.Errorf("%s (%s) was acknowledged with %v up to %d; the log has it at %v", g.what, id, r.Events, r.Seq, seqs)
			}
		}
		own += len(byOrder[id])
		delete(byOrder, id)
	}
	if own != events || len(byOrder) > 0 {
		h.t.Errorf("meet %s has %d events, of which %d are of orders that were given; %d orders are nobody's", meet, events, own, len(byOrder))
	}
}

// chainOf reads a log, checks its chain, and says where the events of each order stand.
func chainOf(t testing.TB, meet string, log []byte) (events int, byOrder map[string][]int64) {
	t.Helper()
	byOrder = map[string][]int64{}
	var head journal.Head
	for line := range bytes.Lines(log) {
		var l struct {
			Seq   int64           `json:"seq"`
			Hash  string          `json:"hash"`
			Event json.RawMessage `json:"event"`
		}
		if err := json.Unmarshal(line, &l); err != nil {
			t.Fatalf("the log of %s cannot be read: %v", meet, err)
		}
		hash, err := journal.ParseHash(l.Hash)
		if err != nil {
			t.Fatal(err)
		}
		r := journal.Record{Seq: l.Seq, Bytes: l.Event, Hash: hash}
		if head, err = head.Follow(r); err != nil {
			t.Fatalf("the log of %s: %v", meet, err)
		}
		envelope, err := r.Open()
		if err != nil {
			t.Fatal(err)
		}
		byOrder[envelope.Command] = append(byOrder[envelope.Command], l.Seq)
		events++
	}
	return events, byOrder
}

// page reads a page of a server until it answers.
func (h *history) page(ctx context.Context, base, path string) []byte {
	h.t.Helper()
	for {
		text, status, err := h.get(ctx, base+path)
		switch {
		case err == nil && status == http.StatusOK:
			return text
		case err == nil && status != http.StatusServiceUnavailable, ctx.Err() != nil:
			h.t.Fatalf("GET %s%s: %d %s %v", base, path, status, text, err)
		}
		time.Sleep(50 * time.Millisecond)
	}
}

func (h *history) get(ctx context.Context, url string) (text []byte, status int, err error) {
	r, err := http.NewRequestWithContext(ctx, http.MethodGet, url, nil)
	if err != nil {
		return nil, 0, err
	}
	r.Header.Set("Authorization", "Bearer "+h.secret)
	res, err := h.http.Do(r)
	if err != nil {
		return nil, 0, err
	}
	defer res.Body.Close()
	text, err = io.ReadAll(res.Body)
	return text, res.StatusCode, err
}

// agree reads pages of a meet from each server, as of the newest place of its log, and
// holds them to be the same to the byte.
func (h *history) agree(ctx context.Context, bases []string, meet string, pages ...string) {
	h.t.Helper()
	log := h.page(ctx, bases[0], "/api/v1/meets/"+meet+"/log")
	events, _ := chainOf(h.t, meet, log)
	for _, page := range append([]string{"/log", ""}, pages...) {
		var first []byte
		for i, base := range bases {
			text := h.page(ctx, base, fmt.Sprintf("/api/v1/meets/%s%s?at_least=%d", meet, page, events))
			if i == 0 {
				first = text
			} else if !bytes.Equal(first, text) {
				h.t.Errorf("meet %s%s: server %d says\n%.600s\nand the first one\n%.600s", meet, page, i+1, text, first)
			}
		}
	}
	h.check(meet, log)
}
