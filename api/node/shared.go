package node

import (
	"context"
	"io"
	"sync"
)

// Shared is one line to a counter box at which several nodes read, each the input of its
// own bench: a serial line can be opened once only. It is opened for the first that
// wants it and closed behind the last; what is lost is lost for all of them, and the next
// one opens it again.
type Shared struct {
	open func(context.Context) (io.ReadCloser, error)

	mu      sync.Mutex
	line    io.ReadCloser
	readers map[*sharedReader]struct{}
}

// NewShared makes a line of one that can be opened.
func NewShared(open func(context.Context) (io.ReadCloser, error)) *Shared {
	return &Shared{open: open, readers: map[*sharedReader]struct{}{}}
}

// sharedRoom is how many pieces wait for a reader that is busy. What is beyond them it
// does not get, and the counts of the box tell it so.
const sharedRoom = 1024

// sharedReader is the line as one node reads it.
type sharedReader struct {
	of     *Shared
	pieces chan []byte
	rest   []byte
	gone   chan struct{} // closed with the line, or by Close
	once   sync.Once
	err    error
}

// Open gives the line to one more reader; it is what [Options.Open] asks for.
func (s *Shared) Open(ctx context.Context) (io.ReadCloser, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.line == nil {
		// Not for this reader alone: its end is not that of the others.
		line, err := s.open(context.WithoutCancel(ctx))
		if err != nil {
			return nil, err
		}
		s.line = line
		go s.pump(line)
	}
	r := &sharedReader{of: s, pieces: make(chan []byte, sharedRoom), gone: make(chan struct{})}
	s.readers[r] = struct{}{}
	return r, nil
}

// pump hands what comes to all readers, until the line is lost.
func (s *Shared) pump(line io.ReadCloser) {
	for {
		buffer := make([]byte, 4096)
		n, err := line.Read(buffer)
		if n == 0 && err == nil {
			err = io.EOF // a serial line that was pulled
		}
		s.mu.Lock()
		if s.line != line { // the last reader has closed it
			s.mu.Unlock()
			return
		}
		for r := range s.readers {
			if n > 0 {
				select {
				case r.pieces <- buffer[:n:n]:
				default:
				}
			}
			if err != nil {
				r.end(err)
			}
		}
		if err != nil {
			s.line = nil
			clear(s.readers)
			s.mu.Unlock()
			_ = line.Close()
			return
		}
		s.mu.Unlock()
	}
}

func (r *sharedReader) end(err error) {
	r.once.Do(func() {
		r.err = err
		close(r.gone)
	})
}

// Read takes what came, in its order; what came before the line was lost is still read.
func (r *sharedReader) Read(to []byte) (int, error) {
	if len(r.rest) == 0 {
		select {
		case r.rest = <-r.pieces:
		default:
			select {
			case r.rest = <-r.pieces:
			case <-r.gone:
				select {
				case r.rest = <-r.pieces:
				default:
					return 0, r.err
				}
			}
		}
	}
	n := copy(to, r.rest)
	r.rest = r.rest[n:]
	return n, nil
}

// Close ends this reader, and with the last one the line.
func (r *sharedReader) Close() error {
	s := r.of
	s.mu.Lock()
	defer s.mu.Unlock()
	r.end(io.ErrClosedPipe)
	if _, there := s.readers[r]; !there {
		return nil
	}
	delete(s.readers, r)
	if len(s.readers) > 0 || s.line == nil {
		return nil
	}
	line := s.line
	s.line = nil
	return line.Close()
}
