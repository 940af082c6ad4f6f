package wire

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"

	"benchmeet/domain/day"
	"benchmeet/domain/trace"
)

// chunkBody is a chunk as it travels.
type chunkBody struct {
	Boot   *string       `json:"boot"`
	Run    *string       `json:"run"`
	Number *int          `json:"number"`
	Stamps *[]int64      `json:"stamps_us"`
	Last   *trace.Totals `json:"last,omitempty"`
}

// ShowChunk writes a chunk as it travels.
func ShowChunk(c trace.Chunk) ([]byte, error) {
	stamps := c.Stamps
	if stamps == nil {
		stamps = []int64{}
	}
	return json.Marshal(chunkBody{Boot: &c.Key.Boot, Run: &c.Key.Run, Number: &c.Key.Number, Stamps: &stamps, Last: c.Last})
}

// ReadChunk reads a chunk strictly: unknown fields, missing fields, numbers
// that are no integers, stamps that run backwards and totals that cannot be are
// refused with a sentence that names the field.
func ReadChunk(bench string, body []byte) (trace.Chunk, error) {
	var in chunkBody
	d := json.NewDecoder(bytes.NewReader(body))
	d.DisallowUnknownFields()
	if err := d.Decode(&in); err != nil {
		return trace.Chunk{}, decodingError(err)
	}
	if _, err := d.Token(); !errors.Is(err, io.EOF) {
		return trace.Chunk{}, errors.New("there is more after the end of the object; send one chunk a request")
	}
	switch {
	case in.Boot == nil:
		return trace.Chunk{}, errors.New("boot is missing")
	case in.Run == nil:
		return trace.Chunk{}, errors.New("run is missing")
	case in.Number == nil:
		return trace.Chunk{}, errors.New("number is missing")
	case in.Stamps == nil:
		return trace.Chunk{}, errors.New("stamps_us is missing")
	}
	c := trace.Chunk{
		Key:    trace.Key{Bench: bench, Boot: *in.Boot, Run: *in.Run, Number: *in.Number},
		Stamps: *in.Stamps, Last: in.Last,
	}
	if err := day.RunID(c.Key.Run).Check(); err != nil {
		return trace.Chunk{}, err
	}
	if in.Last != nil {
		if err := checkTotals(*in.Last); err != nil {
			return trace.Chunk{}, err
		}
	}
	return c, c.Check()
}

func checkTotals(t trace.Totals) error {
	if t.Meet != "" {
		if err := day.CheckID("meet", t.Meet); err != nil {
			return err
		}
	}
	if len(t.Car) > 4 {
		return errors.New("last.car is a car number of one to four digits")
	}
	for _, r := range t.Car {
		if r < '0' || r > '9' {
			return errors.New("last.car is a car number of one to four digits")
		}
	}
	return nil
}

func decodingError(err error) error {
	var kind *json.UnmarshalTypeError
	if errors.As(err, &kind) {
		return fmt.Errorf("%s cannot be a %s; numbers are whole", kind.Field, kind.Value)
	}
	return fmt.Errorf("not a chunk: %w", err)
}
