//go:build linux

package crowd

import (
	"errors"
	"fmt"
	"net/netip"
	"slices"
	"strings"
	"time"

	"golang.org/x/sys/unix"
)

// Crowd is listeners of one server.
type Crowd struct {
	epoll     int
	listeners map[int]*listener // by file descriptor
	buffer    []byte
	ready     []unix.EpollEvent
	// Bytes is what came in so far.
	Bytes int64
}

// perAddress is how many listeners share one address of the loopback network: a server
// that shares its places out gives each address its part.
const perAddress = 500

// openWithin bounds how long one listener may wait for its connection.
const openWithin = 10 * time.Second

// Open connects so many listeners to the path of a server on loopback. What they are
// welcomed with is counted like every other frame.
func Open(server netip.AddrPort, path string, listeners int) (*Crowd, error) {
	epoll, err := unix.EpollCreate1(unix.EPOLL_CLOEXEC)
	if err != nil {
		return nil, err
	}
	c := &Crowd{epoll: epoll, listeners: map[int]*listener{}, buffer: make([]byte, 64<<10), ready: make([]unix.EpollEvent, 512)}
	for n := range listeners {
		from := netip.AddrFrom4([4]byte{127, 2, 0, byte(1 + n/perAddress)})
		l, err := dial(from, server, path)
		if err == nil {
			err = unix.EpollCtl(epoll, unix.EPOLL_CTL_ADD, l.fd, &unix.EpollEvent{Events: unix.EPOLLIN, Fd: int32(l.fd)})
		}
		if err != nil {
			c.Close()
			return nil, fmt.Errorf("listener %d: %w", n, err)
		}
		c.listeners[l.fd] = l
	}
	return c, nil
}

// Close ends all connections.
func (c *Crowd) Close() {
	for fd := range c.listeners {
		_ = unix.Close(fd)
	}
	_ = unix.Close(c.epoll)
}

// ErrLate is returned by Await where not all came in time.
var ErrLate = errors.New("not every listener got every frame in time")

// Await reads until every listener has got so many frames since it was opened, frames
// that only say that the connection lives not counted. It calls each for every listener
// at the moment that its last one is whole; nil is nobody.
func (c *Crowd) Await(frames int, within time.Duration, each func()) error {
	if each == nil {
		each = func() {}
	}
	missing := 0
	for _, l := range c.listeners {
		if l.frames < frames {
			missing++
		}
	}
	for until := time.Now().Add(within); missing > 0; {
		left := time.Until(until)
		if left <= 0 {
			return fmt.Errorf("%w: %d of %d miss frame %d", ErrLate, missing, len(c.listeners), frames)
		}
		come, err := c.read(left, func(before, after int) {
			if before < frames && after >= frames {
				missing--
				each()
			}
		})
		if err != nil || come == 0 && time.Now().After(until) {
			return errors.Join(err, ErrLate)
		}
	}
	return nil
}

// Drain reads whatever comes until nothing has come for so long.
func (c *Crowd) Drain(quiet time.Duration) error {
	for {
		if come, err := c.read(quiet, func(int, int) {}); err != nil || come == 0 {
			return err
		}
	}
}

// Frames is how many every listener has got at least, and the one with most.
func (c *Crowd) Frames() (least, most int) {
	var all []int
	for _, l := range c.listeners {
		all = append(all, l.frames)
	}
	return slices.Min(all), slices.Max(all)
}

// read waits for what comes and reads it once; moved hears of listeners that got on.
func (c *Crowd) read(wait time.Duration, moved func(before, after int)) (come int, err error) {
	n, err := unix.EpollWait(c.epoll, c.ready, int(wait.Milliseconds())+1)
	if errors.Is(err, unix.EINTR) {
		return 1, nil
	}
	if err != nil {
		return 0, err
	}
	for _, r := range c.ready[:n] {
		l := c.listeners[int(r.Fd)]
		got, err := unix.Read(l.fd, c.buffer)
		if errors.Is(err, unix.EAGAIN) || errors.Is(err, unix.EINTR) {
			continue
		}
		if err != nil || got == 0 {
			return n, fmt.Errorf("a listener was cut off: %w", errors.Join(err, errEnd))
		}
		c.Bytes += int64(got)
		before := l.frames
		if err := l.take(c.buffer[:got]); err != nil {
			return n, err
		}
		moved(before, l.frames)
	}
	return n, nil
}

var errEnd = errors.New("the connection ended")

// dial opens a connection and upgrades it.
func dial(from netip.Addr, server netip.AddrPort, path string) (_ *listener, err error) {
	fd, err := unix.Socket(unix.AF_INET, unix.SOCK_STREAM|unix.SOCK_CLOEXEC, 0)
	if err != nil {
		return nil, err
	}
	defer func() {
		if err != nil {
			_ = unix.Close(fd)
		}
	}()
	if err := unix.SetsockoptInt(fd, unix.SOL_IP, unix.IP_BIND_ADDRESS_NO_PORT, 1); err != nil {
		return nil, err
	}
	if err := unix.Bind(fd, &unix.SockaddrInet4{Addr: from.As4()}); err != nil {
		return nil, err
	}
	patience := unix.NsecToTimeval(openWithin.Nanoseconds())
	if err := unix.SetsockoptTimeval(fd, unix.SOL_SOCKET, unix.SO_RCVTIMEO, &patience); err != nil {
		return nil, err
	}
	if err := unix.Connect(fd, &unix.SockaddrInet4{Port: int(server.Port()), Addr: server.Addr().As4()}); err != nil {
		return nil, err
	}
	asks := "GET " + path + " HTTP/1.1\r\nHost: " + server.String() + "\r\nUpgrade: websocket\r\nConnection: Upgrade\r\n" +
		"Sec-WebSocket-Version: 13\r\nSec-WebSocket-Key: dGhlIHNhbXBsZSBub25jZQ==\r\n\r\n" // the key of RFC 6455, 1.3
	if _, err := unix.Write(fd, []byte(asks)); err != nil {
		return nil, err
	}
	var answer []byte
	for more := make([]byte, 4096); ; {
		n, err := unix.Read(fd, more)
		if err != nil || n == 0 {
			return nil, fmt.Errorf("no answer to the upgrade: %w", errors.Join(err, errEnd))
		}
		answer = append(answer, more[:n]...)
		head, rest, whole := strings.Cut(string(answer), "\r\n\r\n")
		if !whole {
			continue
		}
		if !strings.HasPrefix(head, "HTTP/1.1 101 ") {
			return nil, fmt.Errorf("the upgrade was refused: %s", answer)
		}
		l := &listener{fd: fd}
		if err := l.take([]byte(rest)); err != nil {
			return nil, err
		}
		return l, unix.SetNonblock(fd, true)
	}
}
