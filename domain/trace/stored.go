package trace

import (
	"bytes"
	"crypto/sha256"
	"encoding/json"
	"fmt"
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
// and however often; the answer never depends on the order. It refuses chunks of
// different runs, two contents under one number, and totals that do not agree,
// with a sentence that says what is wrong; an incomplete run is ErrIncomplete.
func Join(chunks []Stored) (Train, error) {
	if len(chunks) == 0 {
		return Train{}, ErrIncomplete
	}
	train := Train{Bench: chunks[0].Key.Bench, Boot: chunks[0].Key.Boot, Run: chunks[0].Key.Run}
	byNumber := make(map[int]Stored, len(chunks))
	closed, highest := false, 0
	for _, c := range chunks {
		if c.Key.Bench != train.Bench || c.Key.Boot != train.Boot || c.Key.Run != train.Run {
			return Train{}, fmt.Errorf("chunk %d belongs to run %s of bench %s", c.Key.Number, c.Key.Run, c.Key.Bench)
		}
		if other, there := byNumber[c.Key.Number]; there && !other.Same(c) {
			return Train{}, fmt.Errorf("%w: chunk %d of run %s was sent with two contents", ErrDisagree, c.Key.Number, train.Run)
		}
		byNumber[c.Key.Number] = c
		highest = max(highest, c.Key.Number)
		totals, last, err := c.Totals()
		if err != nil {
			return Train{}, err
		}
		if !last {
			continue
		}
		if closed && totals != train.Totals {
			return Train{}, fmt.Errorf("%w: run %s was closed twice", ErrDisagree, train.Run)
		}
		train.Totals, closed = totals, true
	}
	if closed && train.Totals.Chunks <= highest {
		return Train{}, fmt.Errorf("%w: run %s has a chunk %d, its last chunk says that there are %d", ErrDisagree, train.Run, highest, train.Totals.Chunks)
	}
	if !closed || len(byNumber) < train.Totals.Chunks {
		return Train{}, ErrIncomplete
	}
	train.Stamps = []int64{}
	for number := range train.Totals.Chunks {
		c, there := byNumber[number]
		if !there {
			return Train{}, ErrIncomplete
		}
		stamps, err := unpackStamps(c.Packed)
		if err != nil {
			return Train{}, fmt.Errorf("chunk %d of run %s: %w", number, train.Run, err)
		}
		train.Stamps = append(train.Stamps, stamps...)
	}
	if len(train.Stamps) != train.Totals.Stamps {
		return Train{}, fmt.Errorf("%w: run %s has %d stamps, its last chunk says %d", ErrDisagree, train.Run, len(train.Stamps), train.Totals.Stamps)
	}
	return train, nil
}

// Hash is the SHA-256 of the train's canonical form: the JSON object with
// bench, boot, run, stamps_us and totals in this order, no blanks; no stamps are
// the empty list. Anyone can compute it from an export.
func (t Train) Hash() [sha256.Size]byte {
	if t.Stamps == nil {
		t.Stamps = []int64{}
	}
	text, _ := json.Marshal(struct {
		Bench  string  `json:"bench"`
		Boot   string  `json:"boot"`
		Run    string  `json:"run"`
		Stamps []int64 `json:"stamps_us"`
		Totals Totals  `json:"totals"`
	}{t.Bench, t.Boot, t.Run, t.Stamps, t.Totals})
	return sha256.Sum256(text)
}
