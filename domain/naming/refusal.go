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
		no.Name(func(id any) (string, bool) { return Thing(s, id) })
	}
	return err
}

// Thing is what an id of a day is called in a sentence, and whether it identifies anything:
// "Juniors, round 1, heat 2" of a [day.HeatID], "Juniors" of a [day.DivisionID], the plate number
// of a [day.BenchID], the start number of a [day.EntryID]; of a [day.RunID] and a
// [day.ProtestID] what they are of.
func Thing(s *day.State, id any) (string, bool) {
	switch id := id.(type) {
	case day.HeatID:
		if h, there := s.Heats[id]; there {
			return Heat(s, h), true
		}
	case day.DivisionID:
		d, there := s.Divisions[id]
		return d.Name, there
	case day.BenchID:
		b, there := s.Benches[id]
		return strconv.Itoa(b.Number), there
	case day.EntryID:
		e, there := s.Entries[id]
		return strconv.Itoa(e.StartNumber), there
	case day.RunID:
		if r, there := s.Runs[id]; there {
			return run(s, r), true
		}
	case day.ProtestID:
		if p, there := s.Protests[id]; there {
			return of(s, p.Heat, p.Entry), true
		}
	}
	return "", false
}

// run is a run by the lane that it is of, or by its bench where it is of none.
func run(s *day.State, r day.Run) string {
	if r.Heat == "" {
		return "bench " + s.Plate(r.Bench) + " without a heat"
	}
	return of(s, r.Heat, r.Entry)
}

func of(s *day.State, heat day.HeatID, entry day.EntryID) string {
	h, there := s.Heats[heat]
	if !there {
		return "a heat that is no more"
	}
	if e, there := s.Entries[entry]; there {
		return "start number " + strconv.Itoa(e.StartNumber) + " in " + Heat(s, h)
	}
	return Heat(s, h)
}
