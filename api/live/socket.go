package live

import (
	"bufio"
	"bytes"
	"crypto/tls"
	"errors"
	"net"
	"net/http"
	"slices"
	"sync"
	"syscall"
	"time"
)

// socket writes to one connection without ever waiting for it. What the system does not
// take at once a goroutine pushes, which lives for as long as anything waits: a listener
// that keeps up has none. All that the connection is sent passes here, so a message of
// the protocol never falls into the middle of a frame.
type socket struct {
	net.Conn
	below net.Conn        // under TLS, or the same
	raw   syscall.RawConn // nil where writing without waiting is not possible, as with TLS
	// packs says whether the handshake agreed to compressed messages.
	packs bool

	mu      sync.Mutex // guards what follows; never held while anybody waits
	pushing bool
	rest    []byte // what the push takes next, often the end of a frame that has begun
	control []byte // messages of the protocol that leave behind it
	last    bool   // the goodbye was written or waits: nothing may follow
	broken  bool
	// more gives the push what else waits for this listener. It is called with mu held.
	more func() []byte
	// What attempt writes and what came of it: fields, so that a try costs no memory.
	attempt func(fd uintptr) bool
	try     []byte
	tried   int
	failed  error
}

// mostControl bounds the messages of the protocol that may wait, in bytes.
const mostControl = 1 << 10

var (
	errLast   = errors.New("the connection has been told goodbye")
	errBehind = errors.New("the connection is too far behind")
)

// overtaken is a response that hands a socket to whoever takes its connection over.
type overtaken struct {
	http.ResponseWriter
	hijacker http.Hijacker
	socket   *socket
}

// overtake prepares a response to give its connection away as a socket.
func overtake(w http.ResponseWriter) (http.ResponseWriter, *overtaken) {
	hijacker, can := w.(http.Hijacker)
	if !can {
		return w, &overtaken{} // the upgrade refuses it
	}
	o := &overtaken{ResponseWriter: w, hijacker: hijacker}
	return o, o
}

// Hijack implements http.Hijacker.
func (o *overtaken) Hijack() (net.Conn, *bufio.ReadWriter, error) {
	conn, buffers, err := o.hijacker.Hijack()
	if err != nil {
		return nil, nil, err
	}
	o.socket = newSocket(conn)
	return o.socket, buffers, nil
}

func newSocket(conn net.Conn) *socket {
	s := &socket{Conn: conn, below: conn}
	if secure, is := conn.(*tls.Conn); is {
		s.below = secure.NetConn()
	}
	tcp, is := s.below.(*net.TCPConn)
	if !is {
		return s
	}
	_ = tcp.SetWriteBuffer(socketBuffer) // without it slow listeners only lag more
	if s.below == conn {
		s.raw, _ = tcp.SyscallConn() // without it every write is pushed
		s.attempt = s.attemptOnce
	}
	return s
}

// Write takes the handshake, and then what the library has to say of the protocol: it
// leaves at once or behind the frame that is under way.
func (s *socket) Write(p []byte) (int, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.more == nil { // the handshake, whose answer says what was agreed to
		s.packs = s.packs || bytes.Contains(p, []byte("permessage-deflate"))
	}
	if err := s.tell(p); err != nil {
		return 0, err
	}
	return len(p), nil
}

// SetWriteDeadline does nothing: who writes here never waits, and the push has a
// deadline of its own.
func (*socket) SetWriteDeadline(time.Time) error { return nil }

// tell sends a message of the protocol. The caller holds mu and may change p afterwards.
func (s *socket) tell(p []byte) error {
	switch {
	case s.last:
		return errLast
	case s.broken:
		return net.ErrClosed
	case s.pushing && len(s.control)+len(p) > mostControl:
		return errBehind
	case s.pushing:
		s.control = append(s.control, p...)
		return nil
	}
	return s.send(p, true)
}

// goodbye sends the last message, after which nothing follows, whatever waits.
func (s *socket) goodbye(p []byte) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.last || s.broken {
		return
	}
	if s.pushing {
		s.control = append(s.control, p...)
	} else {
		_ = s.send(p, true) // who is gone needs none
	}
	s.last = true
}

// send writes bytes, or as much as can leave now, and has the rest pushed. Nothing is
// being pushed, and the caller holds mu; copied says that the bytes may change afterwards.
func (s *socket) send(p []byte, copied bool) error {
	n := 0
	if s.raw != nil {
		s.try, s.tried, s.failed = p, 0, nil
		err := s.raw.Write(s.attempt)
		if s.try = nil; err == nil {
			err = s.failed
		}
		if n = s.tried; err != nil {
			s.breaks()
			return err
		}
	}
	if n == len(p) {
		return nil
	}
	s.rest = p[n:]
	if copied {
		s.rest = slices.Clone(s.rest)
	}
	s.pushing = true
	go s.push()
	return nil
}

// attemptOnce writes what the system takes at once. It says that it is done in any
// case: nobody waits here.
func (s *socket) attemptOnce(fd uintptr) bool {
	for s.tried < len(s.try) {
		n, err := syscall.Write(int(fd), s.try[s.tried:])
		switch {
		case err == nil:
			s.tried += n
		case errors.Is(err, syscall.EINTR):
		case errors.Is(err, syscall.EAGAIN):
			return true
		default:
			s.failed = err
			return true
		}
	}
	return true
}

// push writes what waits until nothing does, each piece within its time; a listener
// that does not take it is cut off.
func (s *socket) push() {
	for p := s.next(); p != nil; p = s.next() {
		err := s.Conn.SetWriteDeadline(time.Now().Add(writeWithin))
		if err == nil {
			_, err = s.Conn.Write(p)
		}
		if err != nil {
			s.mu.Lock()
			s.breaks()
			s.mu.Unlock()
			return
		}
	}
}

// next is what the push has to write, nil at its end.
func (s *socket) next() []byte {
	s.mu.Lock()
	defer s.mu.Unlock()
	p := s.rest
	if len(p) == 0 {
		p, s.control = s.control, nil
	}
	if len(p) == 0 && !s.last && s.more != nil {
		p = s.more()
	}
	if s.rest = nil; len(p) > 0 && !s.broken {
		return p
	}
	s.pushing = false
	if s.Conn.SetWriteDeadline(time.Time{}) != nil { // the next try must not meet it
		s.breaks()
	}
	return nil
}

// breaks ends the connection, and with it its reader, without the farewell of TLS, which
// may wait. The caller holds mu.
func (s *socket) breaks() {
	s.broken, s.rest, s.control = true, nil, nil
	_ = s.below.Close()
}
