package main

import (
	"context"
	"encoding/json"
	"errors"
	"io"
	"net/http"
	"testing"
	"time"

	"benchmeet/api/auth"
	"benchmeet/api/gen"
	"benchmeet/api/node"
)

// TestASilentBoxIsSaid: whoever looks at a bench that no heat needs is told whether its
// counter box is heard, without a run; a bench without a box is never called silent.
func TestASilentBoxIsSaid(t *testing.T) {
	w := newWired(t, "")
	for _, bench := range []string{"b1", "b2", "b3"} {
		w.do("PUT", "/api/v1/benches/"+bench, `{"number":`+bench[1:]+`,"circumference_mm":94.25}`)
	}
	order := func(bench string) (o gen.BenchOrder) {
		w.get("/api/v1/benches/"+bench+"/order", &o)
		return o
	}
	is := func(bench string, want gen.BenchBoxState) func() bool {
		return func() bool { o := order(bench); return o.Box != nil && o.Box.State == want }
	}
	if o := order("b1"); o.Box == nil || o.Box.State != gen.Unheard || o.Box.Heard != nil {
		t.Errorf("a box with a key that never asked: %+v", o.Box)
	}
	if o := order("b3"); o.Box != nil {
		t.Errorf("a bench without a box: %+v", o.Box)
	}

	begin := func(open func(context.Context) (io.ReadCloser, error)) (stop func()) {
		spool, err := node.OpenSpool(t.TempDir())
		must(t, err)
		ctx, cancel := context.WithCancel(t.Context())
		ended := make(chan error, 1)
		go func() {
			ended <- node.New(node.Options{
				Server: node.Server{Base: w.server.url(), Bench: "b1", Token: w.tokens[auth.Box], HTTP: &http.Client{Timeout: 2 * time.Second}},
				Spool:  spool, Open: open,
			}).Run(ctx)
		}()
		return func() {
			cancel()
			must(t, <-ended)
		}
	}
	there := make(chan *io.PipeWriter, 1)
	stop := begin(func(context.Context) (io.ReadCloser, error) {
		box, lines := io.Pipe()
		select {
		case there <- lines:
			return box, nil
		default:
			return nil, errors.New("there is one box only")
		}
	})
	w.within(5*time.Second, is("b1", gen.Heard))
	if is("b2", gen.Heard)() {
		t.Error("the box of another bench is heard")
	}
	// The cable is pulled and put in again, while the node goes on asking.
	lines := <-there
	there <- nil
	must(t, lines.Close())
	w.within(5*time.Second, is("b1", gen.Unplugged))
	<-there
	w.within(5*time.Second, is("b1", gen.Heard))

	var asked time.Time
	for range 3 { // while it asks it is never silent
		o := order("b1")
		if o.Box == nil || o.Box.State != gen.Heard || o.Box.Heard == nil {
			t.Fatalf("while it asks: %+v", o.Box)
		}
		asked = *o.Box.Heard
		time.Sleep(700 * time.Millisecond)
	}
	stop()
	w.within(5*time.Second, is("b1", gen.Quiet))
	if o := order("b1"); o.Box.Heard == nil || o.Box.Heard.Before(asked) {
		t.Errorf("silent, it was heard last at %v, and asked at %v", o.Box.Heard, asked)
	}
	// Stamps are a word of the box too, and other people's questions are none.
	w.practise("b1", "r1", "00000000000000a1", 7000)
	if !is("b1", gen.Heard)() {
		t.Error("it sent a run and is not heard")
	}
	w.within(5*time.Second, is("b1", gen.Quiet))

	// What the box itself is told has nothing of it, and whose key was taken is no box any more.
	a := w.send(request{role: auth.Box, method: "GET", path: "/api/v1/benches/b1/order"})
	if a.status != http.StatusOK || a.body == nil || jsonHas(t, a.body, "box") {
		t.Errorf("the box is told %s", a.body)
	}
	var keys gen.TokenList
	w.get("/api/v1/tokens", &keys)
	for _, k := range keys.Tokens {
		if string(k.Role) == string(auth.Box) {
			must(t, w.server.tokens.Revoke(t.Context(), "harbour", k.Id))
		}
	}
	if o := order("b1"); o.Box != nil {
		t.Errorf("a bench whose box has no key any more: %+v", o.Box)
	}
}

// TestARacedBenchSaysNothingOfItsBox: a heat has signs of its own.
func TestARacedBenchSaysNothingOfItsBox(t *testing.T) {
	w := newWired(t, "")
	w.smallMeet()
	var o gen.BenchOrder
	w.get("/api/v1/benches/b1/order", &o)
	if o.Kind != gen.BenchOrderKindHeat || o.Box != nil {
		t.Errorf("%+v", o)
	}
}

func jsonHas(t *testing.T, body []byte, field string) bool {
	t.Helper()
	fields := map[string]json.RawMessage{}
	must(t, json.Unmarshal(body, &fields))
	_, has := fields[field]
	return has
}
