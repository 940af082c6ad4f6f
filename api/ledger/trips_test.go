package ledger_test

import (
	"bytes"
	"context"
	"encoding/binary"
	"io"
	"net"
	"net/url"
	"path/filepath"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"benchmeet/api/ledger"
	"benchmeet/api/store"
	"benchmeet/api/store/postgres"
	"benchmeet/api/store/postgres/pgtest"
)

// trips counts on the way to PostgreSQL how often the database is asked and waited for:
// the messages that end with Sync or are a simple query (PostgreSQL's documentation,
// "Message Flow"). Notices to other servers, which nobody waits for, count apart.
type trips struct {
	url                 string
	waitedFor, notified atomic.Int64
}

// newTrips makes a database behind such a counter.
func newTrips(t *testing.T) *trips {
	t.Helper()
	at, err := url.Parse(pgtest.Database(t))
	must(t, err)
	network, address := "tcp", at.Host // of a server that BENCHMEET_TEST_POSTGRES names
	if folder := at.Query().Get("host"); folder != "" {
		network, address = "unix", filepath.Join(folder, ".s.PGSQL.5432")
	} else if at.Port() == "" {
		address = net.JoinHostPort(at.Hostname(), "5432")
	}
	listener, err := net.Listen("tcp", "127.0.0.1:0")
	must(t, err)
	t.Cleanup(func() { _ = listener.Close() })
	c := &trips{}
	at.Host, at.RawQuery = listener.Addr().String(), "sslmode=disable"
	c.url = at.String()
	go func() {
		for {
			client, err := listener.Accept()
			if err != nil {
				return // the test is over
			}
			server, err := net.Dial(network, address)
			if err != nil {
				t.Error(err)
				return
			}
			go func() { _, _ = io.Copy(client, server); _ = client.Close() }()
			go func() { c.count(client, server); _ = server.Close() }()
		}
	}()
	return c
}

// count passes messages on: a length behind one byte that says what it is, but for the
// first of a connection, which has no such byte.
func (c *trips) count(client io.Reader, server io.Writer) {
	notice := false
	for first := true; ; first = false {
		kind := make([]byte, 0, 5)
		if !first {
			kind = append(kind, 0)
		}
		head := kind[:len(kind)+4]
		if _, err := io.ReadFull(client, head); err != nil {
			return
		}
		body := make([]byte, binary.BigEndian.Uint32(head[len(kind):])-4)
		if _, err := io.ReadFull(client, body); err != nil {
			return
		}
		if !first {
			notice = notice || bytes.Contains(body, []byte("benchmeet"))
			if head[0] == 'S' || head[0] == 'Q' {
				if notice {
					c.notified.Add(1)
				} else {
					c.waitedFor.Add(1)
				}
				notice = false
			}
		}
		if _, err := server.Write(append(head, body...)); err != nil {
			return
		}
	}
}

// gated lets batches go one by one.
type gated struct {
	*postgres.Store
	gate chan struct{}
}

func (g gated) WriteBatch(ctx context.Context, s store.Stream, b store.Batch) error {
	<-g.gate
	return g.Store.WriteBatch(ctx, s, b)
}

// TestTripsOfAnOrder: an order costs one trip to the database and back that anybody
// waits for, and so do 64 that wait together.
func TestTripsOfAnOrder(t *testing.T) {
	counted := newTrips(t)
	s, err := postgres.Open(t.Context(), counted.url+"&pool_max_conns=4")
	must(t, err)
	t.Cleanup(func() { _ = s.Close() })
	must(t, s.EnsureClub(t.Context(), store.Club{ID: harbour}))
	gate := make(chan struct{}, 1000)
	l := newClubs(t, ledger.Options{Logs: gated{s, gate}, Key: []byte("key")})
	for range 20 {
		gate <- struct{}{}
	}
	for n := range 20 { // every connection has prepared its statements
		do(t, l, register(n+1))
	}
	const orders = 30
	for range orders {
		gate <- struct{}{}
	}
	before := counted.waitedFor.Load()
	for n := range orders {
		do(t, l, register(100+n))
	}
	// A connection that has not been used yet prepares two statements.
	if trips := counted.waitedFor.Load() - before; trips < orders || trips > orders+3 {
		t.Errorf("%d orders, one at a time, took %d trips", orders, trips)
	}

	before = counted.waitedFor.Load()
	var all sync.WaitGroup
	all.Go(func() { do(t, l, register(200)) })
	time.Sleep(50 * time.Millisecond) // it stands at the gate
	for n := range 64 {
		all.Go(func() { do(t, l, register(201+n)) })
	}
	time.Sleep(200 * time.Millisecond) // they queue behind it
	close(gate)
	all.Wait()
	if trips := counted.waitedFor.Load() - before; trips > 2+3 {
		t.Errorf("one order and 64 behind it took %d trips", trips)
	}
	for until := time.Now().Add(20 * time.Second); counted.notified.Load() == 0; time.Sleep(5 * time.Millisecond) {
		if time.Now().After(until) { // nobody waits for it, so it may come late
			t.Fatal("no other server was told")
		}
	}
}
