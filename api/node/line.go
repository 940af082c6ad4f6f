package node

import (
	"bufio"
	"context"
	"errors"
	"fmt"
	"io"
	"strconv"
	"strings"
	"time"
)

// Kind says what a line of a counter box means.
type Kind int

// Kinds of lines.
const (
	Pass  Kind = iota // a mark passed the sensor
	Now               // the box's clock
	Start             // the start signal
)

// Reading is one line with the instant at which it arrived here.
type Reading struct {
	Kind    Kind
	US      int64 // µs of the box's clock
	Arrived time.Time
}

// ParseLine reads a line of a counter box. The sentence of its error says what
// was expected.
func ParseLine(line string) (Kind, int64, error) {
	kind, digits := Pass, strings.TrimSpace(line)
	for word, k := range map[string]Kind{"now ": Now, "start ": Start} {
		if rest, is := strings.CutPrefix(digits, word); is {
			kind, digits = k, strings.TrimSpace(rest)
		}
	}
	us, err := strconv.ParseInt(digits, 10, 64)
	if err != nil || us < 0 || us > 1<<53-1 {
		return kind, 0, fmt.Errorf("%q is no line of a counter box: it sends a whole number of µs, or one behind now or start", line)
	}
	return kind, us, nil
}

// Read sends every line of a counter box until it ends or ctx does. Lines that
// cannot be read are told to bad and left out: a plug that is pulled in the middle
// of a line must not end the day.
func Read(ctx context.Context, from io.Reader, to chan<- Reading, bad func(error)) error {
	lines := bufio.NewScanner(from)
	for lines.Scan() {
		if strings.TrimSpace(lines.Text()) == "" {
			continue
		}
		kind, us, err := ParseLine(lines.Text())
		if err != nil {
			bad(err)
			continue
		}
		select {
		case to <- Reading{kind, us, time.Now()}:
		case <-ctx.Done():
			return ctx.Err()
		}
	}
	if err := lines.Err(); err != nil {
		return fmt.Errorf("the counter box cannot be read: %w", err)
	}
	return errors.Join(io.EOF)
}
