package archive

import (
	"bufio"
	"bytes"
	"encoding/base64"
	"encoding/json"
	"errors"
	"fmt"
	"io"

	"benchmeet/domain/trace"
)

// longestLine bounds a line of a file, so that a made-up file does not fill the
// memory. The draw of a large meet is a few hundred kilobytes.
const longestLine = 16 << 20

// eachLine calls each with every line, without its end. The text is valid until
// each returns.
func eachLine(from io.Reader, each func(text []byte) error) error {
	s := bufio.NewScanner(from)
	s.Buffer(make([]byte, 0, 64<<10), longestLine)
	for s.Scan() {
		if err := each(s.Bytes()); err != nil {
			return err
		}
	}
	if errors.Is(s.Err(), bufio.ErrTooLong) {
		return cannotRead("a line is longer than %d MiB", longestLine>>20)
	}
	if err := s.Err(); err != nil {
		return cannotRead("the file is damaged: %w", err)
	}
	return nil
}

// writeLine writes a value as one line of JSON.
func writeLine(w io.Writer, v any) error {
	e := json.NewEncoder(w)
	e.SetEscapeHTML(false)
	return e.Encode(v)
}

// readLine reads a line that writeLine wrote; unknown fields are refused, because
// a later program may mean something by them.
func readLine(text []byte, into any) error {
	d := json.NewDecoder(bytes.NewReader(text))
	d.DisallowUnknownFields()
	if err := d.Decode(into); err != nil {
		return err
	}
	if _, err := d.Token(); !errors.Is(err, io.EOF) {
		return errors.New("there is something behind the object")
	}
	return nil
}

// chunkLine is a chunk as it stands in a run's file.
type chunkLine struct {
	Number int             `json:"number"`
	Packed string          `json:"packed"`
	Last   json.RawMessage `json:"last,omitempty"`
}

// writeChunk writes a chunk as one line. The totals stand in it as they were
// stored, because a trace that comes back must be equal to the byte.
func writeChunk(w io.Writer, c trace.Stored) error {
	text := fmt.Appendf(nil, `{"number":%d,"packed":"%s"`, c.Key.Number, base64.StdEncoding.EncodeToString(c.Packed))
	if c.Last != nil {
		if !json.Valid(c.Last) || bytes.ContainsAny(c.Last, "\r\n") {
			return refuse("the totals of run %s of bench %s cannot be read; see what benchmeet verify says", c.Key.Run, c.Key.Bench)
		}
		text = append(append(text, `,"last":`...), c.Last...)
	}
	_, err := w.Write(append(text, '}', '\n'))
	return err
}

func readChunk(text []byte, key trace.Key) (trace.Stored, error) {
	var l chunkLine
	if err := readLine(text, &l); err != nil {
		return trace.Stored{}, err
	}
	packed, err := base64.StdEncoding.DecodeString(l.Packed)
	if err != nil {
		return trace.Stored{}, err
	}
	key.Number = l.Number
	return trace.Stored{Key: key, Packed: packed, Last: l.Last}, nil
}
