package live

import (
	"context"
	"errors"
	"net"
	"sync"
	"time"

	"github.com/gorilla/websocket"
	"golang.org/x/time/rate"
)

// Times of a connection.
const (
	writeWithin   = 10 * time.Second // a frame has to leave
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
)

// listener is one connection with a slot a topic.
type listener struct {
	topics map[string]bool
	wake   chan struct{}
	over   chan struct{} // closed by end
	ending sync.Once

	mu        sync.Mutex
	frames    slots // topics of the log: they leave at once
	telemetry slots // live speed: it leaves now and then
}

// slots hold the newest unsent frame of each topic.
type slots struct {
	newest map[string]*websocket.PreparedMessage
	order  []string // topics with a frame, oldest first
}

func newListener(topics []string) *listener {
	l := &listener{
		topics: map[string]bool{}, wake: make(chan struct{}, 1), over: make(chan struct{}),
		frames: newSlots(), telemetry: newSlots(),
	}
	for _, t := range topics {
		l.topics[t] = true
	}
	return l
}

func newSlots() slots { return slots{newest: map[string]*websocket.PreparedMessage{}} }

func (s *slots) put(topic string, frame *websocket.PreparedMessage) {
	if _, waiting := s.newest[topic]; !waiting {
		s.order = append(s.order, topic)
	}
	s.newest[topic] = frame
}

func (s *slots) take() (*websocket.PreparedMessage, bool) {
	if len(s.order) == 0 {
		return nil, false
	}
	topic := s.order[0]
	s.order = s.order[1:]
	frame := s.newest[topic]
	delete(s.newest, topic)
	return frame, true
}

// put replaces the frame in a topic's slot; it never waits.
func (l *listener) put(topic string, frame *websocket.PreparedMessage) {
	l.mu.Lock()
	l.frames.put(topic, frame)
	l.mu.Unlock()
	select {
	case l.wake <- struct{}{}:
	default:
	}
}

// end cuts the listener off.
func (l *listener) end() { l.ending.Do(func() { close(l.over) }) }

// putTelemetry replaces a frame that may wait and may be dropped.
func (l *listener) putTelemetry(topic string, frame *websocket.PreparedMessage) {
	l.mu.Lock()
	defer l.mu.Unlock()
	l.telemetry.put(topic, frame)
}

func (l *listener) take(from *slots) (*websocket.PreparedMessage, bool) {
	l.mu.Lock()
	defer l.mu.Unlock()
	return from.take()
}

// serve writes frames until the connection or ctx ends.
func (l *listener) serve(ctx context.Context, conn *websocket.Conn) {
	defer conn.Close()
	if tcp, is := conn.NetConn().(*net.TCPConn); is {
		_ = tcp.SetWriteBuffer(socketBuffer) // without it slow listeners only lag more
	}
	// A frame that cannot leave holds up the goodbye for this long and no longer.
	defer context.AfterFunc(ctx, func() { time.AfterFunc(goodbyeWithin, func() { _ = conn.Close() }) })()
	gone := make(chan struct{})
	go l.read(conn, gone)
	ping := time.NewTicker(pingEvery)
	defer ping.Stop()
	still := time.NewTicker(stillEvery)
	defer still.Stop()
	telemetry := time.NewTicker(telemetryEvery)
	defer telemetry.Stop()
	for {
		select {
		case <-gone:
			return
		case <-ctx.Done():
			sayGoodbye(conn, "the server stops; connect again")
			return
		case <-l.over:
			sayGoodbye(conn, "there is nothing to listen to any more")
			return
		case <-ping.C:
			if conn.WriteControl(websocket.PingMessage, nil, time.Now().Add(writeWithin)) != nil {
				return
			}
		case <-still.C:
			if conn.SetWriteDeadline(time.Now().Add(writeWithin)) != nil || conn.WritePreparedMessage(stillFrame) != nil {
				return
			}
		case <-l.wake:
			if !l.flush(ctx, conn, &l.frames) {
				return
			}
		case <-telemetry.C:
			if !l.flush(ctx, conn, &l.telemetry) {
				return
			}
		}
	}
}

// sayGoodbye ends a connection with a reason; that it is gone already does no harm.
func sayGoodbye(conn *websocket.Conn, why string) {
	_ = conn.WriteControl(websocket.CloseMessage, websocket.FormatCloseMessage(websocket.CloseGoingAway, why), time.Now().Add(goodbyeWithin))
}

// flush writes what waits, until ctx is done; false where the connection broke.
func (l *listener) flush(ctx context.Context, conn *websocket.Conn, from *slots) bool {
	for ctx.Err() == nil {
		frame, there := l.take(from)
		if !there {
			return true
		}
		if conn.SetWriteDeadline(time.Now().Add(writeWithin)) != nil || conn.WritePreparedMessage(frame) != nil {
			return false
		}
	}
	return true
}

// errChatty ends a connection that sends what listeners do not send.
var errChatty = errors.New("listeners only listen")

// read notices pongs and the end of the connection. Listeners have nothing to
// say: who sends anything else is cut off, before any of it is inflated.
func (l *listener) read(conn *websocket.Conn, gone chan<- struct{}) {
	defer close(gone)
	conn.SetReadLimit(mostRead)
	pings := rate.NewLimiter(pingsPerS, pingsInARow)
	alive := func(string) error {
		if !pings.Allow() {
			return errChatty
		}
		return conn.SetReadDeadline(time.Now().Add(pongWithin))
	}
	conn.SetPongHandler(alive)
	answer := conn.PingHandler()
	conn.SetPingHandler(func(data string) error {
		if err := alive(""); err != nil {
			return err
		}
		return answer(data)
	})
	if conn.SetReadDeadline(time.Now().Add(pongWithin)) != nil {
		return
	}
	if _, _, err := conn.NextReader(); err == nil { // data: nobody reads it
		goodbye := websocket.FormatCloseMessage(websocket.ClosePolicyViolation, errChatty.Error())
		_ = conn.WriteControl(websocket.CloseMessage, goodbye, time.Now().Add(goodbyeWithin)) // it is cut off in any case
	}
}
