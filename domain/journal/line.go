package journal

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
)

// line is the form in which records travel: one JSON object a line.
type line struct {
	Seq   int64           `json:"seq"`
	Hash  string          `json:"hash"`
	Event json.RawMessage `json:"event"`
}

// WriteLine writes a record as one line of JSON, {"seq":…,"hash":…,"event":…},
// that holds its bytes as they are, so that anybody can follow the hash chain.
func WriteLine(w io.Writer, r Record) error {
	// Not through the encoder: it would escape what the canonical form does not.
	text := fmt.Appendf(nil, `{"seq":%d,"hash":"%s","event":`, r.Seq, r.Hash)
	text = append(text, r.Bytes...)
	_, err := w.Write(append(text, '}', '\n'))
	return err
}

// ReadLine reads what WriteLine wrote, with or without the end of the line. It
// does not check the hash; Head.Follow does. The record holds the event's bytes
// as they stand in the line and shares no memory with it.
func ReadLine(text []byte) (Record, error) {
	var l line
	d := json.NewDecoder(bytes.NewReader(text))
	d.DisallowUnknownFields()
	if err := d.Decode(&l); err != nil {
		return Record{}, fmt.Errorf("the line of a record cannot be read: %w", err)
	}
	if _, err := d.Token(); !errors.Is(err, io.EOF) {
		return Record{}, errors.New("a line of a record has something behind it")
	}
	hash, err := ParseHash(l.Hash)
	if err != nil {
		return Record{}, fmt.Errorf("the line of record %d: %w", l.Seq, err)
	}
	if len(l.Event) == 0 {
		return Record{}, fmt.Errorf("the line of record %d has no event", l.Seq)
	}
	return Record{Seq: l.Seq, Bytes: l.Event, Hash: hash}, nil
}
