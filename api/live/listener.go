package live

import (
	"errors"
	"io"
	"sync/atomic"
	"time"

	"github.com/gorilla/websocket"
	"golang.org/x/time/rate"
)

// Times of a connection.
const (
	writeWithin   = 10 * time.Second // what waits has to leave
	goodbyeWithin = time.Second
	pingEvery     = 20 * time.Second
	// stillEvery is how often a frame says that the connection lives: a page in a browser
	// does not see pings, and has only frames to tell a quiet meet from a broken connection.
	stillEvery  = 5 * time.Second
	pongWithin  = 60 * time.Second // then the listener is gone
	closeWithin = 2 * time.Second  // the hub waits for its listeners
	mostRead    = 512              // bytes; listeners only send pongs and closes

	// A listener may ping so often a second, and so often in a row.
	pingsPerS, pingsInARow = 2, 20

	// telemetryEvery is how often live speed leaves: an eye sees no more, and a
	// phone's battery and the hall's Wi-Fi are spared.
	telemetryEvery = 100 * time.Millisecond
	// socketBuffer bounds what waits in the system for a slow listener, in bytes,
	// so that frames are skipped here and not delivered late.
	socketBuffer = 32 << 10
	// joinAtMost is up to how many bytes of frames leave in one write.
	joinAtMost = 32 << 10
)

// listener is one connection. It keeps no frames: two numbers say which it has had of
// its group's topics, and what is newer than that waits for it.
type listener struct {
	socket *socket
	conn   *websocket.Conn
	group  *group
	place  int // among the group's listeners; guarded by the group
	at     int // among those of its moment of the courier's round; guarded by the courier
	moment int
	heard  atomic.Int64 // when it was heard of last, in seconds of Unix

	// Guarded by the socket.
	welcome bool  // it may be sent frames
	seen    int64 // the newest frame of the log that it was sent
	told    int64 // the newest of live speed
}

// newListener makes one of a connection that was taken over; without one it only
// counts, as the tests of rooms need it.
func newListener(s *socket, conn *websocket.Conn) *listener {
	l := &listener{socket: s, conn: conn}
	l.heard.Store(time.Now().Unix())
	s.mu.Lock()
	s.more = l.next
	s.mu.Unlock()
	return l
}

// admit lets the listener be sent frames.
func (l *listener) admit() {
	l.socket.mu.Lock()
	defer l.socket.mu.Unlock()
	l.welcome = true
}

// next is what waits, as much of it as leaves in one write. The caller holds the socket.
func (l *listener) next() []byte {
	if !l.welcome {
		return nil
	}
	var room [8]*frame
	due, upTo := l.group.due(l.seen, room[:0])
	if l.seen = upTo; len(due) == 0 {
		if due, upTo = l.group.loud(l.told, room[:0]); len(due) == 0 {
			return nil
		}
		l.told = upTo
		return join(due, l.socket.packs)
	}
	size := 0
	for n, f := range due {
		if size += len(f.bytes(l.socket.packs)); n > 0 && size > joinAtMost {
			due = due[:n]
			l.seen = due[n-1].number
			break
		}
	}
	return join(due, l.socket.packs)
}

// flush sends what waits. It never waits itself.
func (l *listener) flush() {
	s := l.socket
	s.mu.Lock()
	defer s.mu.Unlock()
	for !s.pushing && !s.last && !s.broken {
		p := l.next()
		if p == nil {
			return
		}
		_ = s.send(p, false) // a connection that broke ends its reader
	}
}

// take sends what a delivery has for all listeners of the group, where this one has had
// all that was before it; else what waits for this one.
func (l *listener) take(d *delivery) {
	s := l.socket
	s.mu.Lock()
	ready := l.welcome && !s.pushing && !s.last && !s.broken
	if ready && l.seen == d.after {
		l.seen = d.upTo
		_ = s.send(d.bytes(s.packs), false) // a connection that broke ends its reader
		ready = false
	}
	s.mu.Unlock()
	if ready {
		l.flush()
	}
}

// beat sends what tells the listener that the connection lives, and with ask a ping. A
// listener that has not been heard of for too long is cut off.
func (l *listener) beat(ask bool, now time.Time) {
	s := l.socket
	s.mu.Lock()
	defer s.mu.Unlock()
	if now.Unix()-l.heard.Load() > int64(pongWithin/time.Second) {
		s.breaks()
		return
	}
	says := stillFrame
	if ask {
		says = stillAndPing
	}
	if l.welcome {
		_ = s.tell(says) // who is behind gets frames in any case
	}
}

// stillAndPing leave together.
var stillAndPing = append(append([]byte{}, stillFrame...), pingFrame...)

// end tells the listener to go, and cuts it off where it does not.
func (l *listener) end(why string) {
	l.sayGoodbye(websocket.CloseGoingAway, why)
	time.AfterFunc(goodbyeWithin, func() { _ = l.socket.Close() })
}

// sayGoodbye sends the reason for which a connection ends; that it is gone already
// does no harm.
func (l *listener) sayGoodbye(code int, why string) {
	text := websocket.FormatCloseMessage(code, why)
	// RFC 6455, 5.2: the last frame of a message, a close, not masked, shorter than 126 bytes.
	l.socket.goodbye(append([]byte{0x88, byte(len(text))}, text...))
}

// errChatty ends a connection that sends what listeners do not send.
var errChatty = errors.New("listeners only listen")

// read notices pongs and the end of the connection, and returns at that. Listeners have
// nothing to say: who sends anything else is cut off, before any of it is inflated.
func (l *listener) read() {
	defer func() { _ = l.socket.Close() }() // it may be cut off already
	l.conn.SetReadLimit(mostRead)
	pings := rate.NewLimiter(pingsPerS, pingsInARow)
	alive := func(string) error {
		if !pings.Allow() {
			return errChatty
		}
		l.heard.Store(time.Now().Unix())
		return nil
	}
	l.conn.SetPongHandler(alive)
	answer := l.conn.PingHandler()
	l.conn.SetPingHandler(func(data string) error {
		if err := alive(""); err != nil {
			return err
		}
		return answer(data)
	})
	if _, _, err := l.conn.NextReader(); err != nil {
		return
	}
	// Data: nobody reads it. What has come of it is taken off the socket, for a system
	// that closes one with unread bytes takes the goodbye back.
	l.sayGoodbye(websocket.ClosePolicyViolation, errChatty.Error())
	if l.socket.SetReadDeadline(time.Now().Add(goodbyeWithin)) == nil {
		_, _ = io.CopyN(io.Discard, l.socket, mostRest)
	}
}

// mostRest is how much is read of somebody who talks, in bytes, before the connection is cut.
const mostRest = 64 << 10
