package live

import (
	"bufio"
	"bytes"
	"net"
	"net/http"
	"strconv"
	"sync"
	"time"

	"github.com/gorilla/websocket"
)

// frame is what a topic shows at a moment, as the bytes that all who listen share.
type frame struct {
	topic string
	// number is its place among the frames of its room, from 1; see room.
	number int64
	plain  []byte // as it stands on the wire
	// packed is the same compressed, for those who agreed to that. It is made once, when
	// the first of them gets it, and is plain where packing saves nothing.
	packed func() []byte
}

// packFrom is how long a message must be, in bytes, so that it is worth packing: what
// fits into a packet with room to spare arrives no sooner for being shorter.
const packFrom = 256

// newFrame makes the frame of a message.
func newFrame(topic string, text []byte) (*frame, error) {
	message, err := websocket.NewPreparedMessage(websocket.TextMessage, text)
	if err != nil {
		return nil, err
	}
	plain, err := plainPen.write(message)
	if err != nil {
		return nil, err
	}
	return &frame{topic: topic, plain: plain, packed: sync.OnceValue(func() []byte {
		if len(text) < packFrom {
			return plain
		}
		packed, err := packingPen.write(message)
		if err != nil || len(packed) >= len(plain) {
			return plain
		}
		return packed
	})}, nil
}

// bytes are the frame for a connection.
func (f *frame) bytes(packs bool) []byte {
	if packs {
		return f.packed()
	}
	return f.plain
}

// join is the bytes of frames in a row, which leave in one write. One frame is not
// copied.
func join(frames []*frame, packs bool) []byte {
	if len(frames) == 1 {
		return frames[0].bytes(packs)
	}
	size := 0
	for _, f := range frames {
		size += len(f.bytes(packs))
	}
	out := make([]byte, 0, size)
	for _, f := range frames {
		out = append(out, f.bytes(packs)...)
	}
	return out
}

// encodeFrame makes a frame of data that are JSON already.
func encodeFrame(topic string, seq *int64, put func(to []byte) []byte) (*frame, error) {
	text := make([]byte, 0, 512)
	text = append(append(append(text, `{"topic":`...), encode(topic)...), ',')
	if seq != nil {
		text = append(strconv.AppendInt(append(text, `"seq":`...), *seq, 10), ',')
	}
	text = append(put(append(text, `"data":`...)), '}')
	return newFrame(topic, text)
}

// stillFrame says nothing but that the connection lives; see stillEvery.
var stillFrame = must(encodeFrame("still", nil, func(to []byte) []byte { return append(to, "{}"...) })).plain

// pingFrame asks for a pong: RFC 6455, 5.5.2, without data.
var pingFrame = []byte{0x89, 0}

// pen is a connection of the WebSocket library that ends in memory: the library makes
// the bytes, header and compression, and the feed writes them to whom and when it
// likes, the same bytes to thousands.
type pen struct {
	mu    sync.Mutex
	conn  *websocket.Conn
	paper *paper
}

var plainPen, packingPen = must(newPen(false)), must(newPen(true))

func newPen(packs bool) (*pen, error) {
	p := &pen{paper: &paper{}}
	upgrader := websocket.Upgrader{EnableCompression: packs, ReadBufferSize: 256, WriteBufferSize: 256}
	asks, err := http.NewRequest(http.MethodGet, "/", http.NoBody) //nolint:noctx // it is never sent
	if err != nil {
		return nil, err
	}
	for name, value := range map[string]string{
		"Connection": "Upgrade", "Upgrade": "websocket", "Sec-Websocket-Version": "13",
		"Sec-Websocket-Key": "dGhlIHNhbXBsZSBub25jZQ==", "Sec-Websocket-Extensions": "permessage-deflate",
	} {
		asks.Header.Set(name, value)
	}
	p.conn, err = upgrader.Upgrade(p.paper, asks, nil)
	return p, err
}

// write is the bytes of a message. They are the message's own: nobody may change them.
func (p *pen) write(message *websocket.PreparedMessage) ([]byte, error) {
	p.mu.Lock()
	defer p.mu.Unlock()
	err := p.conn.WritePreparedMessage(message)
	return p.paper.last, err
}

// paper keeps what was written to it last. It is a connection to nobody, and the
// response that the library takes over to get it.
type paper struct {
	net.Conn
	last []byte
}

func (p *paper) Write(b []byte) (int, error)    { p.last = b; return len(b), nil }
func (*paper) SetDeadline(time.Time) error      { return nil }
func (*paper) SetWriteDeadline(time.Time) error { return nil }
func (*paper) Header() http.Header              { return http.Header{} }
func (*paper) WriteHeader(int)                  {}
func (p *paper) Hijack() (net.Conn, *bufio.ReadWriter, error) {
	return p, bufio.NewReadWriter(bufio.NewReader(&bytes.Buffer{}), bufio.NewWriter(p)), nil
}

// must is for what is made of constants.
func must[T any](v T, err error) T {
	if err != nil {
		panic(err)
	}
	return v
}
