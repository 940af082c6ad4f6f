package journal

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"

	"github.com/gowebpki/jcs"
)

// MaxInteger is the largest magnitude of a number in an event, 2^53-1: beyond
// it readers that hold numbers in binary64 (RFC 8785 section 3.2.2.3, and every
// browser) would round.
const MaxInteger = 1<<53 - 1

// Envelope is one event with everything that is known about its writing.
type Envelope struct {
	// Stream names the log that the event belongs to, for example
	// "harbour/club" or "harbour/meet/spring".
	Stream string `json:"stream"`
	// Seq counts the events of the stream from 1 without gaps.
	Seq int64 `json:"seq"`
	// Type is the event's name in the past tense, for example "HeatCalled".
	Type string `json:"type"`
	// V is the version of the type's data, from 1.
	V int `json:"v"`
	// Time is the server's clock in µs since 1970-01-01 UTC, never smaller
	// than that of the event before it.
	Time int64 `json:"time"`
	// Actor is the id of who gave the command: never a name.
	Actor string `json:"actor"`
	// Command is the id of the command that caused the event.
	Command string `json:"command"`
	// Data is the event itself, a JSON object of strings, integers, booleans,
	// lists and objects. It holds no floating point number and no name of a
	// person.
	Data json.RawMessage `json:"data"`
}

// canonical gives the RFC 8785 bytes of the envelope. It refuses data that is no
// object, and any number that is not an integer within ±MaxInteger, because two
// platforms may not agree on its digits.
func (e Envelope) canonical() ([]byte, error) {
	text, err := e.text()
	if err != nil {
		return nil, fmt.Errorf("event %s %d of %s: %w", e.Type, e.Seq, e.Stream, err)
	}
	return text, nil
}

func (e Envelope) text() ([]byte, error) {
	if data := bytes.TrimLeft(e.Data, " \t\r\n"); len(data) == 0 || data[0] != '{' {
		return nil, errors.New("data is not a JSON object")
	}
	plain, err := json.Marshal(e)
	if err != nil {
		return nil, err
	}
	c := cursor{text: plain}
	if text, ok := c.inOrder(make([]byte, 0, len(plain)), 0); ok && c.over() {
		return text, nil
	}
	if err := onlyIntegers(plain); err != nil {
		return nil, err
	}
	return jcs.Transform(plain)
}

// SameData says whether two events are written alike.
func SameData(a, b any) bool {
	one, err := json.Marshal(a)
	if err != nil {
		return false
	}
	other, err := json.Marshal(b)
	return err == nil && bytes.Equal(one, other)
}

// onlyIntegers walks the numbers of a document that is known to be JSON.
func onlyIntegers(text []byte) error {
	d := json.NewDecoder(bytes.NewReader(text))
	d.UseNumber()
	for {
		token, err := d.Token()
		if errors.Is(err, io.EOF) {
			return nil
		}
		if err != nil {
			return err
		}
		number, is := token.(json.Number)
		if !is {
			continue
		}
		n, err := number.Int64()
		if err != nil || n > MaxInteger || n < -MaxInteger {
			return fmt.Errorf("the number %s is not an integer within ±(2^53-1); keep it in a smaller fixed unit", number)
		}
	}
}
