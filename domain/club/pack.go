package club

import (
	"encoding/json"
	"fmt"
	"maps"
	"slices"

	"benchmeet/domain/compact"
	"benchmeet/domain/day"
)

// FoldVersion counts the ways in which a log was folded and a state packed: a state
// that was packed under another one is not to be believed. Raise it with every
// change to what Evolve makes of an event, to State or Practice, or to Pack; a test
// holds this.
const FoldVersion = 6

// packed is all of a state but its full parts.
type packed struct {
	Parts int
	State string     // without runs, as JSON
	Tail  []Practice // the runs behind the full parts
	// Changed is when the benches were given their settings, which the JSON leaves out,
	// by id.
	Changed []benchChanged
}

type benchChanged struct {
	Bench day.BenchID
	AtUS  int64
}

// Pack writes the state so that Unpack makes it again without the log. Its runs,
// oldest first, are cut into parts of size each; a part never changes once it is
// full, so only those from number from on are written. The head holds all else. It
// costs a few microseconds a run that is written.
func (s *State) Pack(from, size int) (head []byte, parts [][]byte) {
	runs := s.oldestFirst()
	full := len(runs) / size
	for n := from; n < full; n++ {
		part := runs[n*size : (n+1)*size]
		parts = append(parts, compact.Append(nil, &part))
	}
	rest := *s
	rest.Runs = New().Runs
	text, err := json.Marshal(&rest)
	if err != nil {
		panic(err) // every field is a plain one
	}
	var changed []benchChanged
	for _, id := range slices.Sorted(maps.Keys(s.Benches)) {
		changed = append(changed, benchChanged{id, s.Benches[id].ChangedUS})
	}
	return compact.Append(nil, &packed{Parts: full, State: string(text), Tail: runs[full*size:], Changed: changed}), parts
}

func (s *State) oldestFirst() []Practice {
	n := 0
	for r := s.newest; r != nil; r = r.before {
		n++
	}
	runs := make([]Practice, n)
	for r := s.newest; r != nil; r = r.before {
		n--
		runs[n] = *r
	}
	return runs
}

// Unpack makes the state that Pack wrote. It asks for each part once, in order.
func Unpack(head []byte, part func(n int) ([]byte, error)) (*State, error) {
	var p packed
	if err := readWhole(head, &p); err != nil {
		return nil, fmt.Errorf("the head of a packed club: %w", err)
	}
	s := New()
	if err := json.Unmarshal([]byte(p.State), s); err != nil {
		return nil, fmt.Errorf("the head of a packed club: %w", err)
	}
	for _, c := range p.Changed {
		b, there := s.Benches[c.Bench]
		if !there {
			return nil, fmt.Errorf("the head of a packed club has no bench %s", c.Bench)
		}
		b.ChangedUS = c.AtUS
		s.Benches[c.Bench] = b
	}
	for n := range p.Parts {
		text, err := part(n)
		if err != nil {
			return nil, err
		}
		var runs []Practice
		if err := readWhole(text, &runs); err != nil {
			return nil, fmt.Errorf("part %d of a packed club: %w", n, err)
		}
		s.addAll(runs)
	}
	s.addAll(p.Tail)
	for id, mark := range s.Marks.All() {
		if mark.Moved {
			movedTo(s, mark.Car, id)
		}
	}
	return s, nil
}

// addAll adds runs, which are then the state's own.
func (s *State) addAll(runs []Practice) {
	for i := range runs {
		s.add(&runs[i])
	}
}

// readWhole reads a value that takes all bytes.
func readWhole[T any](b []byte, v *T) error {
	r := compact.NewReader(b)
	if err := compact.Read(r, v); err != nil {
		return err
	}
	if !r.Over() {
		return fmt.Errorf("something stands behind it: %w", compact.ErrNotCompact)
	}
	return nil
}
