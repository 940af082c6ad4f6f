package broker_test

import (
	"context"
	"log/slog"
	"net"
	"strings"
	"sync/atomic"
	"testing"
	"time"

	"benchmeet/api/broker"
	"benchmeet/api/broker/brokertest"
	"benchmeet/api/relay"
)

func open(t *testing.T, address string) *broker.NATS {
	t.Helper()
	b, err := broker.Open(address, slog.New(slog.DiscardHandler))
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(b.Close)
	return b
}

// eventually waits until something holds.
func eventually(t *testing.T, what string, holds func() bool) {
	t.Helper()
	for began := time.Now(); !holds(); time.Sleep(10 * time.Millisecond) {
		if time.Since(began) > 15*time.Second {
			t.Fatal(what)
		}
	}
}

// TestNATS: what is published reaches others and not its sender, each question is answered
// by one, and where nobody answers it is said at once.
func TestNATS(t *testing.T) {
	s := brokertest.Begin(t, -1)
	a, b := open(t, s.ClientURL()), open(t, s.ClientURL())
	var _ relay.Broker = a
	var atA, atB atomic.Int64
	for _, one := range []struct {
		at    *broker.NATS
		count *atomic.Int64
	}{{a, &atA}, {b, &atB}} {
		if _, err := one.at.Subscribe("t.speed.*", func(message []byte) {
			if string(message) == "x" {
				one.count.Add(1)
			}
		}); err != nil {
			t.Fatal(err)
		}
	}
	eventually(t, "no message comes", func() bool {
		if err := a.Publish("t.speed.club", []byte("x")); err != nil {
			t.Fatal(err)
		}
		return atB.Load() > 0
	})
	if atA.Load() != 0 {
		t.Error("a sender is sent its own messages")
	}
	ask := func() (string, error) {
		ctx, cancel := context.WithTimeout(t.Context(), 5*time.Second)
		defer cancel()
		text, err := b.Ask(ctx, "t.ask", []byte("who"))
		return string(text), err
	}
	if text, err := ask(); text != "" || err != nil {
		t.Errorf("nobody answers: %q %v", text, err)
	}
	var answers atomic.Int64
	for range 2 {
		cancel, err := a.Answer("t.ask", func(context.Context, []byte) []byte { answers.Add(1); return []byte("me") })
		if err != nil {
			t.Fatal(err)
		}
		defer cancel()
	}
	eventually(t, "no answer comes", func() bool { text, err := ask(); return err == nil && text == "me" })
	if answers.Load() != 1 {
		t.Errorf("%d answered one question", answers.Load())
	}
}

// TestNATSAway: a server begins without its broker, says what it cannot do, and finds it
// when it is there, also after it was away.
func TestNATSAway(t *testing.T) {
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	port := l.Addr().(*net.TCPAddr).Port
	l.Close()
	address := "nats://" + l.Addr().String()
	a, b := open(t, address), open(t, address)
	if _, err := a.Answer("t.ask", func(context.Context, []byte) []byte { return []byte("me") }); err != nil {
		t.Fatalf("while the broker is away nobody may answer: %v", err)
	}
	answered := func() bool {
		ctx, cancel := context.WithTimeout(t.Context(), time.Second)
		defer cancel()
		text, err := b.Ask(ctx, "t.ask", []byte("who"))
		return err == nil && string(text) == "me"
	}
	if answered() {
		t.Fatal("an answer came without a broker")
	}
	s := brokertest.Begin(t, port)
	eventually(t, "the broker is there, and nobody is answered", answered)
	s.Shutdown()
	s.WaitForShutdown()
	if answered() {
		t.Error("an answer came without a broker")
	}
	brokertest.Begin(t, port)
	eventually(t, "the broker is back, and nobody is answered", answered)
	if _, err := broker.Open("nats://[", slog.New(slog.DiscardHandler)); err == nil || !strings.Contains(err.Error(), "--feed") {
		t.Errorf("an address that is none: %v", err)
	}
}
