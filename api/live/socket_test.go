package live

import (
	"bytes"
	"crypto/tls"
	"encoding/binary"
	"encoding/json"
	"fmt"
	"math/rand/v2"
	"net/http"
	"net/http/httptest"
	"strings"
	"sync/atomic"
	"testing"
	"time"

	"github.com/gorilla/websocket"

	"benchmeet/api/store"
)

// toldFeed is a hub over a told source, behind a server.
type toldFeed struct {
	t      *testing.T
	hub    *Hub
	source *told
	server *httptest.Server
}

func newToldFeed(t *testing.T, secure bool) *toldFeed {
	t.Helper()
	f := &toldFeed{t: t, source: newTold()}
	f.hub = New(Options{Alone: true})
	f.hub.Sources = func(store.Stream) Source { return f.source }
	f.server = httptest.NewUnstartedServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		there := Topics{Has: func(string, string) bool { return true }}
		if err := f.hub.Serve(w, r, Who{}, store.MeetStream("harbour", "spring"), there); err != nil {
			t.Error(err)
		}
	}))
	if secure {
		f.server.StartTLS()
	} else {
		f.server.Start()
	}
	t.Cleanup(f.server.Close)
	t.Cleanup(f.hub.Close)
	return f
}

func (f *toldFeed) dial(packs bool) *websocket.Conn {
	f.t.Helper()
	dialer := websocket.Dialer{EnableCompression: packs, TLSClientConfig: &tls.Config{InsecureSkipVerify: true}}
	conn, res, err := dialer.Dial("ws"+strings.TrimPrefix(f.server.URL, "http")+"?topics=board,meet,speed", nil)
	if err != nil {
		f.t.Fatal(err)
	}
	res.Body.Close()
	if agreed := strings.Contains(res.Header.Get("Sec-Websocket-Extensions"), "permessage-deflate"); agreed != packs {
		f.t.Errorf("compression agreed to: %v", agreed)
	}
	f.t.Cleanup(func() { _ = conn.Close() })
	if err := conn.SetReadDeadline(time.Now().Add(30 * time.Second)); err != nil {
		f.t.Fatal(err)
	}
	return conn
}

// show has topics changed.
func (f *toldFeed) show(topics map[string]any) {
	f.source.mu.Lock()
	for topic, data := range topics {
		f.source.data[topic] = data
	}
	f.source.mu.Unlock()
	select {
	case f.source.changes <- struct{}{}:
	default: // it has not looked since the last one
	}
}

// welcomed waits until who dialled is served: its handshake ends a little before that, and
// who is not served yet is told nothing.
func (f *toldFeed) welcomed() {
	f.t.Helper()
	for until := time.Now().Add(15 * time.Second); ; time.Sleep(time.Millisecond) {
		served := 0
		f.hub.each(func(l *listener) {
			l.socket.mu.Lock()
			defer l.socket.mu.Unlock()
			if l.welcome {
				served++
			}
		})
		if served > 0 {
			return
		}
		if time.Now().After(until) {
			f.t.Fatal("nobody is served")
		}
	}
}

func (f *toldFeed) gone(within time.Duration) {
	f.t.Helper()
	for until := time.Now().Add(within); f.hub.Listeners() > 0; time.Sleep(5 * time.Millisecond) {
		if time.Now().After(until) {
			f.t.Fatalf("%d listeners stay", f.hub.Listeners())
		}
	}
}

// TestFrameOnTheWire: RFC 6455, 5.2: one message, whole, not masked, its length in 7, 16
// or 64 bits, whichever is shortest.
func TestFrameOnTheWire(t *testing.T) {
	for _, size := range []int{0, 1, 125, 126, 65_535, 65_536, 700_000} {
		text := bytes.Repeat([]byte("a"), size)
		f, err := newFrame("board", text)
		if err != nil {
			t.Fatal(err)
		}
		want := []byte{0x81}
		switch {
		case size < 126:
			want = append(want, byte(size))
		case size < 1<<16:
			want = binary.BigEndian.AppendUint16(append(want, 126), uint16(size))
		default:
			want = binary.BigEndian.AppendUint64(append(want, 127), uint64(size))
		}
		if head, rest := f.plain[:len(want)], f.plain[len(want):]; !bytes.Equal(head, want) || !bytes.Equal(rest, text) {
			t.Errorf("%d bytes: the head is %x, want %x, with %d bytes behind it", size, head, want, len(rest))
		}
		// RFC 7692, 6: a compressed message has the first reserved bit; it need not be compressed.
		packed := f.bytes(true)
		if small := size > packFrom; (packed[0] == 0xc1) != small || small && len(packed) > size/8 {
			t.Errorf("%d bytes packed: the head is %x, %d bytes in all", size, packed[:2], len(packed))
		}
	}
}

// TestEverySizeArrives: plain and packed, on bare connections and with TLS, one topic
// and two that leave together, as the library of the other side reads them.
func TestEverySizeArrives(t *testing.T) {
	chance := rand.New(rand.NewPCG(1, 2))
	for _, secure := range []bool{false, true} {
		f := newToldFeed(t, secure)
		conns := []*websocket.Conn{f.dial(false), f.dial(true)}
		for _, size := range []int{0, 90, 126, 4096, 20_000, 65_536, 1 << 20} {
			noise := make([]byte, size/2)
			for i := range noise {
				noise[i] = byte(chance.Uint32())
			}
			want := map[string]string{"board": fmt.Sprintf("%x", noise), "meet": strings.Repeat("m", size) + fmt.Sprint(size)}
			f.show(map[string]any{"board": want["board"], "meet": want["meet"]})
			for n, conn := range conns {
				for have := map[string]string{}; have["board"] != want["board"] || have["meet"] != want["meet"]; {
					var got got
					if err := conn.ReadJSON(&got); err != nil {
						t.Fatalf("TLS %v, connection %d, %d bytes: %v", secure, n, size, err)
					}
					var text string
					if json.Unmarshal(got.Data, &text) == nil {
						have[got.Topic] = text
					}
				}
			}
		}
	}
}

// TestPongsStayBetweenFrames: a listener that reads slowly and pings gets whole frames
// and its pongs.
func TestPongsStayBetweenFrames(t *testing.T) {
	f := newToldFeed(t, false)
	conn := f.dial(false)
	pongs := 0
	conn.SetPongHandler(func(string) error { pongs++; return nil })
	big := strings.Repeat("x", 3<<20) // more than the system takes at once
	var last string
	for n := range 5 {
		last = fmt.Sprint(big, n)
		f.show(map[string]any{"board": last})
		if err := conn.WriteControl(websocket.PingMessage, []byte("are you there"), time.Now().Add(time.Second)); err != nil {
			t.Fatal(err)
		}
		time.Sleep(20 * time.Millisecond)
	}
	for have := ""; have != last || pongs == 0; {
		var got got
		if err := conn.ReadJSON(&got); err != nil {
			t.Fatalf("after %d pongs: %v", pongs, err)
		}
		if got.Topic == "board" && json.Unmarshal(got.Data, &have) != nil {
			t.Fatal("a frame is not whole")
		}
	}
}

// TestSlowListenerIsCutOff: who takes nothing is let go after its time, and one that
// keeps up has nothing pushed.
func TestSlowListenerIsCutOff(t *testing.T) {
	t.Parallel()
	f := newToldFeed(t, false)
	f.dial(false) // reads nothing
	from := time.Now()
	for n := range 4 {
		f.show(map[string]any{"board": fmt.Sprint(n, strings.Repeat("x", 8<<20))})
		time.Sleep(10 * time.Millisecond)
	}
	if there := f.hub.Listeners(); there != 1 && time.Since(from) < writeWithin {
		t.Error("it is cut off at once")
	}
	f.gone(writeWithin + 15*time.Second)
}

// TestSilentListenerIsCutOff: one that answers no ping for a minute is gone, whatever the
// system believes of its connection; one that answers stays.
func TestSilentListenerIsCutOff(t *testing.T) {
	f := newToldFeed(t, false)
	silent := f.dial(false)
	var pinged atomic.Int64
	silent.SetPingHandler(func(string) error { pinged.Add(1); return nil }) // and answers nothing
	go func() { _ = ends(silent) }()
	beatAt := func(after time.Duration) {
		f.hub.each(func(l *listener) { l.beat(true, time.Now().Add(after)) })
	}
	f.welcomed()
	beatAt(0)
	for pinged.Load() == 0 {
		time.Sleep(time.Millisecond)
	}
	beatAt(pongWithin - 2*time.Second)
	time.Sleep(20 * time.Millisecond)
	if f.hub.Listeners() != 1 {
		t.Fatal("it is cut off too soon")
	}
	beatAt(pongWithin + 2*time.Second)
	f.gone(10 * time.Second)

	lives := f.dial(false)
	f.welcomed()
	go func() { _ = ends(lives) }()
	f.hub.each(func(l *listener) { l.heard.Store(0) }) // as if it had been silent for long
	f.hub.each(func(l *listener) { l.socket.mu.Lock(); _ = l.socket.tell(pingFrame); l.socket.mu.Unlock() })
	f.hub.each(func(l *listener) {
		for l.heard.Load() == 0 {
			time.Sleep(time.Millisecond)
		}
	})
	beatAt(0)
	time.Sleep(20 * time.Millisecond)
	if f.hub.Listeners() != 1 {
		t.Error("one that answers is cut off")
	}
}

// TestHalfClosedListenerLeaves: one that says that it sends no more is gone.
func TestHalfClosedListenerLeaves(t *testing.T) {
	f := newToldFeed(t, false)
	conn := f.dial(false)
	if err := conn.NetConn().(interface{ CloseWrite() error }).CloseWrite(); err != nil {
		t.Fatal(err)
	}
	f.gone(10 * time.Second)
}

// TestManyComeAndGo while frames go out: every one that stays ends on the newest.
func TestManyComeAndGo(t *testing.T) {
	f := newToldFeed(t, false)
	f.show(map[string]any{"board": 0})
	var stay []*websocket.Conn
	for n := range 60 {
		conn := f.dial(n%3 == 0)
		if n%2 == 0 {
			stay = append(stay, conn)
		} else {
			_ = conn.Close()
		}
		f.show(map[string]any{"board": n, "meet": -n})
	}
	f.show(map[string]any{"board": 100, "meet": 100})
	for n, conn := range stay {
		for have := map[string]string{}; have["board"] != "100" || have["meet"] != "100"; {
			var got got
			if err := conn.ReadJSON(&got); err != nil {
				t.Fatalf("%d: %v (%v)", n, err, have)
			}
			have[got.Topic] = string(got.Data)
		}
	}
}
