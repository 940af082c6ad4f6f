package intake

import (
	"cmp"
	"encoding/json"
	"slices"

	"benchmeet/domain/trace"
)

// piece puts a run together whose totals do not agree with its chunks, as well as
// can be: all stamps in the order of the chunks' numbers, under the totals of the
// last chunk that states any. It is trace.ErrIncomplete while a number below the
// highest is missing. What a bench measured is kept and measured, and the flag
// says that something was lost or counted wrongly.
func piece(chunks []trace.Stored) (trace.Train, error) {
	chunks = slices.SortedFunc(slices.Values(chunks), func(a, b trace.Stored) int {
		return cmp.Compare(a.Key.Number, b.Key.Number)
	})
	train := trace.Train{Stamps: []int64{}}
	for n, c := range chunks {
		if c.Key.Number != n {
			return trace.Train{}, trace.ErrIncomplete
		}
		train.Bench, train.Boot, train.Run = c.Key.Bench, c.Key.Boot, c.Key.Run
		totals, last, err := c.Totals()
		if err != nil {
			return trace.Train{}, err
		}
		if last {
			train.Totals = totals
		}
		stamps, err := stampsOf(c)
		if err != nil {
			return trace.Train{}, err
		}
		train.Stamps = append(train.Stamps, stamps...)
	}
	return train, nil
}

// stampsOf unpacks one chunk: it is joined as a run of its own.
func stampsOf(c trace.Stored) ([]int64, error) {
	n := 0
	for _, b := range c.Packed {
		if b < 0x80 { // the last byte of a varint
			n++
		}
	}
	last, err := json.Marshal(trace.Totals{Chunks: 1, Stamps: n})
	if err != nil {
		return nil, err
	}
	c.Key.Number, c.Last = 0, last
	alone, err := trace.Join([]trace.Stored{c})
	return alone.Stamps, err
}
