package wire

import (
	"bytes"
	"encoding/json"
	"errors"
	"reflect"
	"strconv"
	"strings"

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
	if !json.Valid(body) {
		return trace.Chunk{}, errors.New("it is not one whole JSON object; send one chunk a request, and nothing behind it")
	}
	if err := Names(body, plainName); err != nil {
		return trace.Chunk{}, err
	}
	var in chunkBody
	d := json.NewDecoder(bytes.NewReader(body))
	d.DisallowUnknownFields()
	if err := d.Decode(&in); err != nil {
		return trace.Chunk{}, decodingError(err)
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

// plainName refuses names that a decoder of JSON takes for those of a chunk and that are
// others: it does not tell small letters from capitals.
func plainName(path string) error {
	if strings.ContainsFunc(path, func(r rune) bool { return r != '.' && r != '_' && (r < 'a' || r > 'z') && (r < '0' || r > '9') }) {
		return errUnknown
	}
	return nil
}

var errUnknown = errors.New("a chunk has nothing of this name")

func decodingError(err error) error {
	var kind *json.UnmarshalTypeError
	if errors.As(err, &kind) {
		return errors.New(WhyNot(kind))
	}
	// The decoder has no error of its own for this one.
	if name, is := strings.CutPrefix(err.Error(), "json: unknown field "); is {
		if plain, err := strconv.Unquote(name); err == nil {
			name = plain
		}
		return &NameError{name, errUnknown}
	}
	return errors.New("it is not a JSON object with the fields of a chunk")
}

// WhyNot says why a value of JSON cannot be what its field is, in words and by the names
// of the contract. A whole number is written in digits alone: 100 is one, 1e2 and 100.0
// are not, for they say that somebody's program keeps it otherwise.
func WhyNot(e *json.UnmarshalTypeError) string {
	where := ""
	if e.Field != "" {
		where = Short(e.Field) + ": "
	}
	switch e.Type.Kind() {
	case reflect.Int, reflect.Int8, reflect.Int16, reflect.Int32, reflect.Int64, reflect.Uint, reflect.Uint64:
		return where + "this is a whole number, written in digits alone, such as 100"
	case reflect.Float64:
		return where + "this is a number"
	case reflect.Bool:
		return where + "this is true or false"
	case reflect.String:
		return where + "this is a text"
	case reflect.Slice:
		return where + "this is a list"
	}
	return where + "this is an object"
}
