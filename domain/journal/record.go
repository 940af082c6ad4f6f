package journal

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"io"
)

// Hash is a SHA-256 value. The zero Hash stands before the first record.
type Hash [sha256.Size]byte

// String is the hash in 64 hexadecimal digits.
func (h Hash) String() string { return hex.EncodeToString(h[:]) }

// ParseHash reads 64 hexadecimal digits.
func ParseHash(text string) (Hash, error) {
	var h Hash
	b, err := hex.DecodeString(text)
	if err != nil || len(b) != len(h) {
		return h, fmt.Errorf("%q is not a hash of %d hexadecimal digits", text, 2*len(h))
	}
	copy(h[:], b)
	return h, nil
}

// Record is an event as it is stored: its place, its canonical bytes, and the
// hash that chains it to the record before.
type Record struct {
	Seq   int64
	Bytes []byte
	Hash  Hash
}

// Head is the place and the hash of a stream's last record; the zero Head is an
// empty stream's.
type Head struct {
	Seq  int64
	Hash Hash
}

// Head is the head of a stream that ends with this record.
func (r Record) Head() Head { return Head{Seq: r.Seq, Hash: r.Hash} }

// Seal makes the record that follows head. It sets nothing of the envelope: a
// wrong Seq is an error of the caller and refused.
func Seal(head Head, e Envelope) (Record, error) {
	if e.Seq != head.Seq+1 {
		return Record{}, fmt.Errorf("event %s of %s has seq %d, the next is %d", e.Type, e.Stream, e.Seq, head.Seq+1)
	}
	text, err := e.canonical()
	if err != nil {
		return Record{}, err
	}
	return Record{Seq: e.Seq, Bytes: text, Hash: link(head.Hash, text)}, nil
}

// usual is a length in bytes that few records have.
const usual = 1024

// link is the hash of a record with these bytes behind the previous hash.
func link(previous Hash, text []byte) Hash {
	whole := make([]byte, 0, usual) // on the stack, where the record is no longer
	whole = append(whole, previous[:]...)
	return sha256.Sum256(append(whole, text...))
}

// Open reads the envelope of a record. Its data shares the record's memory.
func (r Record) Open() (Envelope, error) { return r.open(sound, true) }

// OpenUnread is Open for those who read the data next, with a Reader, and ask for
// nothing else: it does not look into what may be the data, which the Reader refuses
// where it is none, and may leave out all but Seq, Type, V, Time and Data.
func (r Record) OpenUnread() (Envelope, error) { return r.open(unread, false) }

func (r Record) open(data func(*cursor) bool, all bool) (Envelope, error) {
	if e, ok := r.openCanonical(data, all); ok && e.Seq == r.Seq {
		return e, nil
	}
	return r.openSlowly()
}

// sound steps over data that is JSON.
func sound(c *cursor) bool { return c.skip(0) }

// unread steps over all in front of the place that comes behind the data: no string
// can hold these bytes, for a quote in it has a backslash. Blanks around the data are no
// part of it, and Seal writes none.
func unread(c *cursor) bool {
	n := bytes.LastIndex(c.text, []byte(behindData))
	if n < c.at || len(bytes.TrimSpace(c.text[c.at:n])) != n-c.at {
		return false
	}
	c.at = n
	return true
}

const behindData = `,"seq":`

// openCanonical reads an envelope in the form in which Seal writes it; false is any
// other form. It steps over the data as it is told, and copies all texts or the type
// alone.
func (r Record) openCanonical(data func(*cursor) bool, all bool) (e Envelope, ok bool) {
	// The members stand in the order of their names (RFC 8785). After the first that is not as
	// expected, ok is false and nothing more is read.
	c := cursor{text: r.Bytes}
	number := func(name string) (n int64) {
		ok = ok && c.word(name)
		if ok {
			n, ok = c.integer()
		}
		return n
	}
	text := func(name string) (out []byte) {
		ok = ok && c.word(name)
		if ok {
			out, ok = c.quoted()
		}
		return out
	}
	ok = true
	actor := text(`{"actor":`)
	command := text(`,"command":`)
	ok = ok && c.word(`,"data":`)
	began := c.at
	ok = ok && data(&c)
	// The capacity ends with the data, so that nobody can append to it into the record.
	e.Data = r.Bytes[began:c.at:c.at]
	e.Seq = number(behindData)
	stream := text(`,"stream":`)
	e.Time = number(`,"time":`)
	e.Type = string(text(`,"type":`))
	e.V = int(number(`,"v":`))
	// The texts are copied only where they are asked for: a fold needs the type alone.
	if all {
		e.Actor, e.Command, e.Stream = string(actor), string(command), string(stream)
	}
	return e, ok && c.word("}") && c.over()
}

// openSlowly reads an envelope in any form.
func (r Record) openSlowly() (Envelope, error) {
	var e Envelope
	d := json.NewDecoder(bytes.NewReader(r.Bytes))
	d.DisallowUnknownFields()
	if err := d.Decode(&e); err != nil {
		return e, fmt.Errorf("record %d cannot be read: %w", r.Seq, err)
	}
	if _, err := d.Token(); !errors.Is(err, io.EOF) {
		return e, fmt.Errorf("record %d has something behind its event", r.Seq)
	}
	if e.Seq != r.Seq {
		return e, fmt.Errorf("record %d holds the event with seq %d", r.Seq, e.Seq)
	}
	return e, nil
}

// ErrLater is wrapped where an event is of a version, or of a kind, that this program does
// not know: nothing is wrong with it, and the program that wrote it reads it.
var ErrLater = errors.New("it was written by a later program")

// ErrBrokenChain is wrapped by Follow's error when a record does not follow
// from the one before.
var ErrBrokenChain = errors.New("the hash chain is broken")

// Follow checks that r is the record right after head and returns the new head.
// It costs one SHA-256 of the record.
func (h Head) Follow(r Record) (Head, error) {
	if r.Seq != h.Seq+1 {
		return h, fmt.Errorf("%w: record %d follows record %d", ErrBrokenChain, r.Seq, h.Seq)
	}
	if want := link(h.Hash, r.Bytes); r.Hash != want {
		return h, fmt.Errorf("%w at record %d: its bytes give %s, it says %s", ErrBrokenChain, r.Seq, want, r.Hash)
	}
	return r.Head(), nil
}
