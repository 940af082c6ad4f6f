// Package brokertest starts brokers for tests, in the process of the test.
package brokertest

import (
	"testing"
	"time"

	"github.com/nats-io/nats-server/v2/server"
)

// Begin starts a broker at a port of loopback until the test ends; -1 takes a free one.
func Begin(t testing.TB, port int) *server.Server {
	t.Helper()
	s, err := server.NewServer(&server.Options{Host: "127.0.0.1", Port: port, NoLog: true, NoSigs: true})
	if err != nil {
		t.Fatal(err)
	}
	s.Start()
	if !s.ReadyForConnections(10 * time.Second) {
		t.Fatal("the broker does not begin")
	}
	t.Cleanup(s.Shutdown)
	return s
}
