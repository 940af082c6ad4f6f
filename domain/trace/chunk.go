package trace

import (
	"encoding/binary"
	"errors"
	"fmt"
)

// Limits of a chunk and of a run. A run of an hour at 20,000 turns a minute
// gives 1.2 million stamps; a bench that sends more is not counting turns.
const (
	// MaxStamps is the largest number of stamps in one chunk.
	MaxStamps = 10_000
	// MaxChunks is the largest number of chunks in one run.
	MaxChunks = 4_000
	// MaxStamp is the largest stamp, 2^53-1 µs (285 years).
	MaxStamp = 1<<53 - 1

	maxRestarts = 1000
	maxClockPPB = 500_000_000
)

// Key says which chunk of which run it is. The same key always holds the same
// content: a resent chunk is recognised by it.
type Key struct {
	Bench  string
	Boot   string // random 64-bit number of this start of the counter box, 16 hex digits
	Run    string
	Number int // from 0
}

// StartSource says what stamped the start of the run.
type StartSource string

const (
	// StartNone means that the run has no start signal: it is measured from
	// its first to its last genuine stamp.
	StartNone StartSource = ""
	// StartBenchClock means that the counter box itself stamped the signal.
	StartBenchClock StartSource = "bench_clock"
	// StartArrival means that the start is the arrival of a message at the
	// counter box; Totals.StartDelayUS bounds the delay.
	StartArrival StartSource = "arrival"
)

// Totals close a run; they travel with its last chunk.
type Totals struct {
	Chunks       int         `json:"chunks"`
	Stamps       int         `json:"stamps"`
	StartSource  StartSource `json:"start_source,omitempty"`
	StartUS      int64       `json:"start_us,omitempty"`
	StartDelayUS int64       `json:"start_delay_us,omitempty"`
	DurationUS   int64       `json:"duration_us,omitempty"`
	// Meet is the meet that armed the run; empty in practice.
	Meet string `json:"meet,omitempty"`
	// Car is the start number or car that was confirmed at a practice bench.
	Car string `json:"car,omitempty"`
	// Lost are passes that the counter box counted and that did not come; where it
	// does not count, the lines that could not be read and the times that its cable
	// was out.
	Lost int `json:"lost,omitempty"`
	// RestartsUS are the stamps' clock where the box started anew in the run: what
	// comes from there on was put behind the rest by the arrival of its lines.
	RestartsUS []int64 `json:"restarts_us,omitempty"`
	// ClockPPB is what the box's clock gains on that of the computer beside it, in
	// 1e-9, and UClockPPB its standard uncertainty; 0 where it was not compared.
	// The stamps are as the box gave them.
	ClockPPB  int64 `json:"clock_ppb,omitempty"`
	UClockPPB int64 `json:"u_clock_ppb,omitempty"`
}

// Chunk is one piece of a run's stamps.
type Chunk struct {
	Key    Key
	Stamps []int64 // µs, in the order in which they were stamped
	Last   *Totals // only in the last chunk
}

// Check refuses a chunk that no bench can have made; the sentence says which
// field to mend.
func (c Chunk) Check() error {
	switch {
	case c.Key.Number < 0 || c.Key.Number >= MaxChunks:
		return fmt.Errorf("chunk number %d is outside 0 to %d", c.Key.Number, MaxChunks-1)
	case len(c.Stamps) > MaxStamps:
		return fmt.Errorf("%d stamps in one chunk; send at most %d and go on in the next chunk", len(c.Stamps), MaxStamps)
	case !isBoot(c.Key.Boot):
		return errors.New("boot must be 16 hexadecimal digits, drawn at random when the counter box starts")
	}
	before := int64(0)
	for i, s := range c.Stamps {
		if s < 0 || s > MaxStamp {
			return fmt.Errorf("stamps_us[%d] is %d; a stamp is 0 to 2^53-1 µs", i, s)
		}
		if s < before {
			return fmt.Errorf("stamps_us[%d] runs backwards (%d after %d); send them in the order of the clock, unwrapped", i, s, before)
		}
		before = s
	}
	if c.Last == nil {
		return nil
	}
	return c.Last.check(c.Key.Number)
}

func (t Totals) check(number int) error {
	switch {
	case t.Chunks != number+1:
		return fmt.Errorf("the last chunk is number %d, so last.chunks must be %d, not %d", number, number+1, t.Chunks)
	case t.Stamps < 0 || t.Stamps > t.Chunks*MaxStamps:
		return fmt.Errorf("last.stamps is %d, which %d chunks cannot hold", t.Stamps, t.Chunks)
	case t.StartSource != StartNone && t.StartSource != StartBenchClock && t.StartSource != StartArrival:
		return fmt.Errorf("last.start_source is %q; use bench_clock or arrival, or leave it out", t.StartSource)
	case t.StartUS < 0 || t.StartUS > MaxStamp || t.StartDelayUS < 0 || t.StartDelayUS > MaxStamp:
		return errors.New("last.start_us and last.start_delay_us are 0 to 2^53-1 µs")
	case t.DurationUS < 0 || t.DurationUS > 24*3600*1_000_000:
		return errors.New("last.duration_us is 0 to 24 hours in µs")
	case t.StartSource == StartNone && (t.StartUS != 0 || t.StartDelayUS != 0):
		return errors.New("last.start_us needs last.start_source: say what stamped the start")
	case t.Lost < 0 || t.Lost > MaxChunks*MaxStamps:
		return fmt.Errorf("last.lost is %d; it is a number of passes", t.Lost)
	case len(t.RestartsUS) > maxRestarts:
		return fmt.Errorf("%d restarts in one run; send at most %d", len(t.RestartsUS), maxRestarts)
	case t.ClockPPB < -maxClockPPB || t.ClockPPB > maxClockPPB || t.UClockPPB < 0 || t.UClockPPB > maxClockPPB:
		return errors.New("last.clock_ppb and last.u_clock_ppb are in 1e-9, at most half the rate")
	}
	for i, at := range t.RestartsUS {
		if at < 0 || at > MaxStamp || i > 0 && at < t.RestartsUS[i-1] {
			return fmt.Errorf("last.restarts_us[%d] is %d; they are 0 to 2^53-1 µs and ascend", i, at)
		}
	}
	return nil
}

func isBoot(text string) bool {
	if len(text) != 16 {
		return false
	}
	for _, r := range text {
		if (r < '0' || r > '9') && (r < 'a' || r > 'f') {
			return false
		}
	}
	return true
}

// packStamps writes stamps as differences in varints: about 2 bytes a stamp
// where JSON takes 9.
func packStamps(stamps []int64) []byte {
	out := make([]byte, 0, 3*len(stamps))
	before := int64(0)
	for _, s := range stamps {
		out = binary.AppendUvarint(out, uint64(s-before))
		before = s
	}
	return out
}

// unpackStamps appends what packStamps wrote to stamps, of earlier chunks.
func unpackStamps(stamps []int64, packed []byte) ([]int64, error) {
	at := int64(0)
	for len(packed) > 0 {
		d, n := binary.Uvarint(packed)
		if n <= 0 || d > MaxStamp || at+int64(d) > MaxStamp {
			return nil, errors.New("the stored stamps cannot be read")
		}
		at += int64(d)
		stamps = append(stamps, at)
		packed = packed[n:]
	}
	return stamps, nil
}
