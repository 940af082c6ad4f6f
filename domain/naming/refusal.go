package naming

import (
	"errors"
	"strconv"

	"benchmeet/domain/day"
	"benchmeet/domain/refusal"
)

// Refusal lets a refusal, if err is one, name what its arguments identify in the day. It
// returns err.
func Refusal(s *day.State, err error) error {
	var no *refusal.Refusal
	if errors.As(err, &no) {
		no.Name(func(id any) (refusal.Name, bool) { return Thing(s, id) })
	}
	return err
}

// Thing is what an id of a day is called in a sentence, and whether it identifies anything:
// "Juniors, round 1, heat 2" of a [day.HeatID], "Juniors" of a [day.DivisionID], the plate number
// of a [day.BenchID], the start number of a [day.EntryID]; of a [day.RunID] and a
// [day.ProtestID] what they are of. A division without a name has none.
func Thing(s *day.State, id any) (refusal.Name, bool) {
	switch id := id.(type) {
	case day.HeatID:
		if h, there := s.Heats[id]; there {
			return named(heat(s, h)), true
		}
	case day.DivisionID:
		d, there := s.Divisions[id]
		return refusal.Name{Says: d.Name}, there
	case day.BenchID:
		b, there := s.Benches[id]
		return refusal.Name{Says: strconv.Itoa(b.Number)}, there
	case day.EntryID:
		e, there := s.Entries[id]
		return refusal.Name{Says: strconv.Itoa(e.StartNumber)}, there
	case day.RunID:
		if r, there := s.Runs[id]; there {
			return named(run(s, r)), true
		}
	case day.ProtestID:
		if p, there := s.Protests[id]; there {
			return named(of(s, p.Heat, p.Entry)), true
		}
	}
	return refusal.Name{}, false
}

// run is a run by the lane that it is of, or by its bench where it is of none.
func run(s *day.State, r day.Run) []refusal.Part {
	if r.Heat == "" {
		return []refusal.Part{{Code: "bench-alone", Value: s.Plate(r.Bench)}}
	}
	return of(s, r.Heat, r.Entry)
}

func of(s *day.State, id day.HeatID, entry day.EntryID) []refusal.Part {
	h, there := s.Heats[id]
	if !there {
		return []refusal.Part{{Code: "gone"}}
	}
	if e, there := s.Entries[entry]; there {
		return append([]refusal.Part{{Code: "car", Value: strconv.Itoa(e.StartNumber)}}, heat(s, h)...)
	}
	return heat(s, h)
}
