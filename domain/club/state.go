package club

import (
	"cmp"
	"iter"
	"maps"
	"slices"

	"benchmeet/domain/meet"
	"benchmeet/domain/refusal"
)

// State is the club so far: the fold of its stream. Values in the maps, and what
// they point to, are replaced and never changed in place.
type State struct {
	Seq    int64 `json:"seq"`
	TimeUS int64 `json:"time_us"` // of the last event

	Benches map[meet.BenchID]Bench    `json:"benches"`
	Cars    map[meet.CarID]Car        `json:"cars"`
	Numbers map[int]meet.CarID        `json:"numbers"` // car numbers
	Runs    map[meet.RunID]*Practice  `json:"runs"`    // pointers: a club has many, and Clone copies the map
	Armed   map[meet.BenchID]Armed    `json:"armed"`
	Erased  map[meet.EntrantID]int64  `json:"erased"` // when, in µs
	Retired map[meet.BenchID]struct{} `json:"retired"`
	// ErasedTexts are free texts that were erased alone, and when, in µs.
	ErasedTexts map[string]int64 `json:"erased_texts,omitempty"`
	// ArmedSoFar counts the armed runs, for their ids.
	ArmedSoFar int `json:"armed_so_far"`
	// Checks are the reference checks of all meets, oldest first; Dropped are runs
	// that were taken out of theirs.
	Checks  []Check                 `json:"checks,omitempty"`
	Dropped map[meet.RunID]struct{} `json:"dropped,omitempty"`

	// Periods are the divisions of meets that were rated, in the order in which they
	// were first.
	Periods []RatingPeriod `json:"periods,omitempty"`

	newest *Practice // leads from each run to the one before
}

// Bench is a registered bench.
type Bench struct {
	meet.Bench
}

// Car is a car of the club, known by the number on it.
type Car struct {
	ID      meet.CarID `json:"id"`
	Number  int        `json:"number"`
	WheelUM int64      `json:"wheel_um,omitempty"` // wheel diameter, µm
	// Reference marks a car that nobody races with: it compares benches.
	Reference bool `json:"reference,omitempty"`
}

// New is the state of a club without events.
func New() *State {
	return &State{
		Benches: map[meet.BenchID]Bench{},
		Cars:    map[meet.CarID]Car{},
		Numbers: map[int]meet.CarID{},
		Runs:    map[meet.RunID]*Practice{},
		Armed:   map[meet.BenchID]Armed{},
		Erased:  map[meet.EntrantID]int64{},
		Retired: map[meet.BenchID]struct{}{},
		Dropped: map[meet.RunID]struct{}{},
	}
}

// Clone is a copy that Evolve may change while others read s.
func (s *State) Clone() *State {
	c := *s
	c.Benches = maps.Clone(s.Benches)
	c.Cars = maps.Clone(s.Cars)
	c.Numbers = maps.Clone(s.Numbers)
	c.Runs = maps.Clone(s.Runs)
	c.Armed = maps.Clone(s.Armed)
	c.Erased = maps.Clone(s.Erased)
	c.Retired = maps.Clone(s.Retired)
	c.Dropped = maps.Clone(s.Dropped)
	return &c
}

// SortedBenches are the benches in use by plate number, then id.
func (s *State) SortedBenches() []Bench {
	var out []Bench
	for id, b := range s.Benches {
		if _, retired := s.Retired[id]; !retired {
			out = append(out, b)
		}
	}
	slices.SortFunc(out, func(a, b Bench) int {
		return cmp.Or(cmp.Compare(a.Number, b.Number), cmp.Compare(a.ID, b.ID))
	})
	return out
}

// SortedCars are the cars by number, then id.
func (s *State) SortedCars() []Car {
	return slices.SortedFunc(maps.Values(s.Cars), func(a, b Car) int {
		return cmp.Or(cmp.Compare(a.Number, b.Number), cmp.Compare(a.ID, b.ID))
	})
}

// Practised goes through all practice runs, newest first.
func (s *State) Practised() iter.Seq[Practice] {
	return func(yield func(Practice) bool) {
		for r := s.newest; r != nil; r = r.before {
			if !yield(*r) {
				return
			}
		}
	}
}

// History is a car's practice runs, newest first, at most so many.
func (s *State) History(car meet.CarID, most int) []Practice {
	return s.first(most, func(r Practice) bool { return r.Car == car })
}

// Newest is the practice runs, newest first, at most so many.
func (s *State) Newest(most int) []Practice {
	return s.first(most, func(Practice) bool { return true })
}

func (s *State) first(most int, which func(Practice) bool) []Practice {
	var out []Practice
	for r := range s.Practised() {
		if len(out) >= most {
			break
		}
		if which(r) {
			out = append(out, r)
		}
	}
	return out
}

func (s *State) bench(id meet.BenchID) (Bench, error) {
	b, there := s.Benches[id]
	if !there {
		return b, refusal.New("no-bench", "bench", id)
	}
	if _, retired := s.Retired[id]; retired {
		return b, refusal.New("bench-retired", "bench", id)
	}
	return b, nil
}
