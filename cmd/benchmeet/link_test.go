package main

import (
	"net"
	"net/url"
	"os"
	"path/filepath"
	"sync"
	"testing"

	"benchmeet/api/store/postgres/pgtest"
)

// link is a piece of network between two programs that can be broken and mended.
type link struct {
	listener net.Listener
	dial     func() (net.Conn, error)

	mu    sync.Mutex
	how   linkState
	conns map[net.Conn]struct{}
}

// linkState is how a link is.
type linkState int

const (
	whole linkState = iota
	// refused: whoever was connected is cut off, and nobody can connect.
	refused
	// silent: nothing arrives, and nobody is told, as with a cable that was pulled.
	silent
)

func newLink(t testing.TB, network, address string, dial func() (net.Conn, error)) *link {
	t.Helper()
	l, err := net.Listen(network, address)
	if err != nil {
		t.Fatal(err)
	}
	out := &link{listener: l, dial: dial, conns: map[net.Conn]struct{}{}}
	var all sync.WaitGroup
	all.Go(func() {
		for {
			conn, err := l.Accept()
			if err != nil {
				return
			}
			all.Go(func() { out.carry(conn) })
		}
	})
	t.Cleanup(func() {
		_ = l.Close()
		out.set(refused)
		all.Wait()
	})
	return out
}

// toDatabase is a link to a server of PostgreSQL, with the address that leads over it.
func toDatabase(t testing.TB, s *pgtest.Server) (*link, string) {
	t.Helper()
	folder, err := os.MkdirTemp("", "link") // short: names of sockets are
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = os.RemoveAll(folder) })
	const name = ".s.PGSQL.5432"
	l := newLink(t, "unix", filepath.Join(folder, name), func() (net.Conn, error) {
		return net.Dial("unix", filepath.Join(s.Socket(), name))
	})
	u, err := url.Parse(s.URL())
	if err != nil {
		t.Fatal(err)
	}
	u.RawQuery = url.Values{"host": {folder}}.Encode()
	return l, u.String()
}

// set breaks or mends the link. What was under way in a silence never arrives.
func (l *link) set(how linkState) {
	l.mu.Lock()
	defer l.mu.Unlock()
	if how == refused || l.how == silent && how != silent {
		for c := range l.conns {
			_ = c.Close()
		}
	}
	l.how = how
}

func (l *link) state() linkState {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.how
}

// keep has a connection closed with the link; false where the link is refused.
func (l *link) keep(c net.Conn) bool {
	l.mu.Lock()
	defer l.mu.Unlock()
	if l.how == refused {
		return false
	}
	l.conns[c] = struct{}{}
	return true
}

func (l *link) drop(c net.Conn) {
	l.mu.Lock()
	delete(l.conns, c)
	l.mu.Unlock()
	_ = c.Close()
}

// carry passes on what comes until one end is gone.
func (l *link) carry(near net.Conn) {
	if !l.keep(near) {
		_ = near.Close()
		return
	}
	defer l.drop(near)
	far, err := l.dial()
	if err != nil || !l.keep(far) {
		return
	}
	defer l.drop(far)
	var back sync.WaitGroup
	back.Go(func() { l.pump(near, far) })
	l.pump(far, near)
	back.Wait()
}

func (l *link) pump(to, from net.Conn) {
	defer func() { _ = to.Close() }()
	buffer := make([]byte, 32<<10)
	for {
		n, err := from.Read(buffer)
		if n > 0 && l.state() != silent {
			if _, err := to.Write(buffer[:n]); err != nil {
				_ = from.Close()
				return
			}
		}
		if err != nil {
			return
		}
	}
}
