package trace

import (
	"bytes"
	"cmp"
	"crypto/sha256"
	"encoding/json"
	"errors"
	"fmt"
	"slices"
	"strconv"
)

// Stored is a chunk as the store keeps it.
type Stored struct {
	Key    Key
	Packed []byte // the stamps, packed
	Last   []byte // the totals as JSON; nil but in the last chunk
}

// Pack gives the stored form of a chunk that was checked. The same chunk always
// gives the same bytes, so bytes that differ under one key are a conflict.
func (c Chunk) Pack() Stored {
	s := Stored{Key: c.Key, Packed: packStamps(c.Stamps)}
	if c.Last != nil {
		s.Last, _ = json.Marshal(c.Last) // a struct of strings and integers cannot fail
	}
	return s
}

// Same says whether two stored chunks hold the same content.
func (s Stored) Same(other Stored) bool {
	return s.Key == other.Key && bytes.Equal(s.Packed, other.Packed) && bytes.Equal(s.Last, other.Last)
}

// Totals reads the totals of a last chunk; false for any other.
func (s Stored) Totals() (Totals, bool, error) {
	var t Totals
	if s.Last == nil {
		return t, false, nil
	}
	if err := json.Unmarshal(s.Last, &t); err != nil {
		return t, false, fmt.Errorf("chunk %d of run %s: %w", s.Key.Number, s.Key.Run, err)
	}
	return t, true, nil
}

// Train is all that a bench sent of one run.
type Train struct {
	Bench  string
	Boot   string
	Run    string
	Stamps []int64 // µs, all chunks in order
	Totals Totals
}

// Join puts a complete run's chunks together, in whatever order they are given
// and however often; the answer never depends on the order. An incomplete run is
// ErrIncomplete. Totals that do not agree with the chunks are ErrDisagree, and the
// train comes with it all the same: nothing measured is thrown away. Chunks of
// different runs, or two contents under one number, are a mistake of the caller
// and give no train.
func Join(chunks []Stored) (Train, error) {
	sorted, err := inOrder(chunks)
	if err != nil {
		return Train{}, err
	}
	first := sorted[0].Key
	bytes := 0
	for _, c := range sorted {
		bytes += len(c.Packed)
	}
	// About two bytes a stamp, and never less than one.
	train := Train{Bench: first.Bench, Boot: first.Boot, Run: first.Run, Stamps: make([]int64, 0, bytes/2)}
	closed := 0 // chunks that call themselves the last
	for number, c := range sorted {
		if c.Key.Number != number {
			return Train{}, ErrIncomplete
		}
		totals, last, err := c.Totals()
		if err != nil {
			return Train{}, err
		}
		if last {
			train.Totals = totals
			closed++
		}
		if train.Stamps, err = unpackStamps(train.Stamps, c.Packed); err != nil {
			return Train{}, fmt.Errorf("chunk %d of run %s: %w", number, train.Run, err)
		}
	}
	switch t := train.Totals; {
	case closed == 0 || len(sorted) < t.Chunks:
		return Train{}, ErrIncomplete
	case closed > 1:
		return train, fmt.Errorf("%w: run %s was closed twice", ErrDisagree, train.Run)
	case len(sorted) > t.Chunks:
		return train, fmt.Errorf(
			"%w: run %s has a chunk %d, its last chunk says that there are %d", ErrDisagree, train.Run, len(sorted)-1, t.Chunks,
		)
	case len(train.Stamps) != t.Stamps:
		return train, fmt.Errorf("%w: run %s has %d stamps, its last chunk says %d", ErrDisagree, train.Run, len(train.Stamps), t.Stamps)
	}
	return train, nil
}

// Whole puts together what has come of a run from chunk 0 on without a gap, and says
// how many chunks that is. Chunks behind a gap do not hold it up, and empty ones behind
// the last are no part of it: a box that sends one too many must not keep its run from
// being recorded. Otherwise it is Join.
func Whole(chunks []Stored) (train Train, n int, err error) {
	sorted, err := inOrder(chunks)
	if err != nil {
		return Train{}, 0, err
	}
	for n < len(sorted) && sorted[n].Key.Number == n {
		n++
	}
	for n > 0 && len(sorted[n-1].Packed) == 0 && sorted[n-1].Last == nil {
		n-- // it holds nothing: with it the train would be the same
	}
	train, err = Join(sorted[:n])
	return train, n, err
}

// Recorded finds the train of a run that was recorded: the first chunks whose train
// has the SHA-256 that stands in the log, and how many they are. What came after them
// is none of its business. It is ErrIncomplete where no train of the chunks has that
// hash, and ErrDisagree as Join says it. Each number of chunks that could make a whole
// run costs a pass over their stamps; it is one, but for runs with late chunks.
func Recorded(chunks []Stored, hash [sha256.Size]byte) (train Train, n int, err error) {
	sorted, err := inOrder(chunks)
	if err != nil {
		return Train{}, 0, err
	}
	ended := false
	for n, c := range sorted {
		if c.Key.Number != n {
			break
		}
		ended = ended || c.Last != nil
		if !ended {
			continue
		}
		train, err := Join(sorted[:n+1])
		if err != nil && !errors.Is(err, ErrDisagree) {
			continue
		}
		if train.Hash() == hash {
			return train, n + 1, err
		}
	}
	return Train{}, 0, ErrIncomplete
}

// inOrder sorts the chunks of one run by number, each once.
func inOrder(chunks []Stored) ([]Stored, error) {
	if len(chunks) == 0 {
		return nil, ErrIncomplete
	}
	sorted := slices.SortedFunc(slices.Values(chunks), func(a, b Stored) int { return cmp.Compare(a.Key.Number, b.Key.Number) })
	for i, c := range sorted {
		k, first := c.Key, sorted[0].Key
		switch {
		case k.Bench != first.Bench || k.Boot != first.Boot || k.Run != first.Run:
			return nil, fmt.Errorf(
				"chunk %d belongs to run %s of bench %s, start %s, not to run %s of bench %s, start %s", k.Number, k.Run, k.Bench, k.Boot, first.Run,
				first.Bench, first.Boot,
			)
		case i > 0 && k.Number == sorted[i-1].Key.Number && !c.Same(sorted[i-1]):
			return nil, fmt.Errorf("chunk %d of run %s was sent with two contents", k.Number, k.Run)
		}
	}
	return slices.CompactFunc(sorted, func(a, b Stored) bool { return a.Key.Number == b.Key.Number }), nil
}

// Hash is the SHA-256 of the train's canonical form: the JSON object with
// bench, boot, run, stamps_us and totals in this order, no blanks; no stamps are
// the empty list. Anyone can compute it from an export.
func (t Train) Hash() [sha256.Size]byte {
	name := func(s string) []byte {
		text, _ := json.Marshal(s) // a string cannot fail
		return text
	}
	totals, _ := json.Marshal(t.Totals) // strings and integers cannot fail
	// A train has tens of thousands of stamps or millions, so they do not go through the
	// encoder, and are never one text.
	const part = 32 << 10
	sum := sha256.New()
	text := make([]byte, 0, part+200+len(totals))
	text = append(append(text, `{"bench":`...), name(t.Bench)...)
	text = append(append(text, `,"boot":`...), name(t.Boot)...)
	text = append(append(text, `,"run":`...), name(t.Run)...)
	text = append(text, `,"stamps_us":[`...)
	for i, at := range t.Stamps {
		if i > 0 {
			text = append(text, ',')
		}
		text = strconv.AppendInt(text, at, 10)
		if len(text) >= part {
			sum.Write(text) // never fails
			text = text[:0]
		}
	}
	text = append(append(text, `],"totals":`...), totals...)
	sum.Write(append(text, '}'))
	return [sha256.Size]byte(sum.Sum(nil))
}
