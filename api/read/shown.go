package read

import (
	"bytes"
	"compress/gzip"
	"slices"
	"strconv"
	"sync"

	"benchmeet/domain/journal"
)

// Shown is what a topic shows at a position.
type Shown struct {
	Head journal.Head
	text *text

	once   sync.Once
	body   []byte
	packed sync.Once
	gzip   []byte
}

// Text is the JSON without the position: a topic has not changed as long as its text
// is the same. It must not be changed.
func (s *Shown) Text() []byte { return s.text.bytes }

// Body is the JSON with the position. It is made once, and must not be changed.
func (s *Shown) Body() []byte {
	s.once.Do(func() { s.body = s.Put(nil) })
	return s.body
}

// Put appends what Body is, for whoever writes something around it.
func (s *Shown) Put(to []byte) []byte { return s.text.put(to, s.Head) }

// Packed is Body packed by gzip, made once.
func (s *Shown) Packed() []byte {
	s.packed.Do(func() {
		var out bytes.Buffer
		w, err := gzip.NewWriterLevel(&out, gzip.BestSpeed)
		if err != nil {
			panic(err) // the level is one
		}
		// A buffer takes everything.
		_, _ = w.Write(s.Body())
		_ = w.Close()
		s.gzip = out.Bytes()
	})
	return s.gzip
}

// text is JSON of a thing whose position is left out: its number stands as 0, its hash
// as that of an empty log.
type text struct {
	bytes []byte
	// seq and head are where the 0 and that hash stand; 0 where there is none.
	seq, head int
}

// noHash is the hash of an empty log.
var noHash = journal.Hash{}.String()

// put appends the text with a position.
func (t *text) put(out []byte, head journal.Head) []byte {
	out = slices.Grow(out, len(t.bytes)+20+2*len(head.Hash))
	from := 0
	put := func(at, skip int, with []byte) {
		if at > 0 {
			out = append(append(out, t.bytes[from:at]...), with...)
			from = at + skip
		}
	}
	seq, hash := strconv.AppendInt(nil, head.Seq, 10), []byte(head.Hash.String())
	if t.head < t.seq {
		put(t.head, len(noHash), hash)
		put(t.seq, 1, seq)
	} else {
		put(t.seq, 1, seq)
		put(t.head, len(noHash), hash)
	}
	return append(out, t.bytes[from:]...)
}
