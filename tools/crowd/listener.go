//go:build linux

package crowd

import (
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"

	"golang.org/x/sys/unix"
)

// listener reads frames of RFC 6455 without keeping them.
type listener struct {
	fd     int
	frames int // that were read whole, but for those that only say that the connection lives

	head [10]byte // of the frame that is being read
	had  int      // of it
	left int      // of the frame's content
	// start is the content's first bytes, by which a frame is told that says nothing.
	start []byte
}

// still is how a frame begins that only says that the connection lives.
var still = []byte(`{"topic":"still"`)

var errStrange = errors.New("a frame that no feed sends")

// take reads what came.
func (l *listener) take(some []byte) error {
	for len(some) > 0 {
		if l.left == 0 {
			n, err := l.begin(some)
			if err != nil {
				return err
			}
			if some = some[n:]; l.left > 0 || !l.whole() {
				continue
			}
		} else {
			n := min(l.left, len(some))
			l.start = append(l.start, some[:min(n, len(still)-min(len(l.start), len(still)))]...)
			some, l.left = some[n:], l.left-n
		}
		if l.left == 0 {
			if err := l.end(); err != nil {
				return err
			}
		}
	}
	return nil
}

// length is how long the head of the frame is, as far as it can be told.
func (l *listener) length() int {
	if l.had < 2 {
		return 2
	}
	switch l.head[1] {
	case 126:
		return 4
	case 127:
		return 10
	}
	return 2
}

func (l *listener) whole() bool { return l.had >= 2 && l.had == l.length() }

// begin reads of a frame's head and says how many bytes of it.
func (l *listener) begin(some []byte) (int, error) {
	n := 0
	for n < len(some) && !l.whole() {
		l.head[l.had] = some[n]
		l.had, n = l.had+1, n+1
	}
	if !l.whole() {
		return n, nil
	}
	if l.head[1]&0x80 != 0 || l.head[0]&0x80 == 0 {
		return n, fmt.Errorf("%w: its head is %x", errStrange, l.head[:l.had])
	}
	switch l.head[1] {
	case 126:
		l.left = int(binary.BigEndian.Uint16(l.head[2:]))
	case 127:
		l.left = int(binary.BigEndian.Uint64(l.head[2:]))
	default:
		l.left = int(l.head[1])
	}
	return n, nil
}

// end counts a frame that was read whole, and answers a ping.
func (l *listener) end() error {
	switch l.head[0] & 0xf {
	case 1, 2:
		if !bytes.Equal(l.start, still) {
			l.frames++
		}
	case 9:
		_, _ = unix.Write(l.fd, []byte{0x8a, 0x80, 0, 0, 0, 0}) // one that is lost is asked for again
	case 8:
		return fmt.Errorf("a listener was told to go: %w", errEnd)
	}
	l.had, l.start = 0, l.start[:0]
	return nil
}
