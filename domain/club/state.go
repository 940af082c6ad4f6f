package club

import (
	"cmp"
	"maps"
	"slices"

	"benchmeet/domain/day"
	"benchmeet/domain/refusal"
	"benchmeet/domain/trie"
	"benchmeet/domain/workshop"
)

// State is the club so far: the fold of its stream. Values in the maps, and what
// they point to, are replaced and never changed in place. What grows for years is
// in maps whose copies share memory, so that an order costs the same after ten
// years as on the first day.
type State struct {
	Seq    int64 `json:"seq"`
	TimeUS int64 `json:"time_us"` // of the last event

	Benches map[day.BenchID]Bench          `json:"benches"`
	Cars    trie.Map[day.CarID, Car]       `json:"cars"`
	Numbers trie.Map[int, day.CarID]       `json:"numbers"` // car numbers
	Runs    trie.Map[day.RunID, *Practice] `json:"runs"`
	Armed   map[day.BenchID]Armed          `json:"armed"`
	Erased  map[day.EntrantID]int64        `json:"erased"` // when, in µs
	Retired map[day.BenchID]struct{}       `json:"retired"`
	// ErasedTexts are free texts that were erased alone, and when, in µs.
	ErasedTexts map[string]int64 `json:"erased_texts,omitempty"`
	// Consents are what changed of people's consents since the log notes it, oldest
	// first; nothing else of a person stands in the log.
	Consents trie.Map[day.EntrantID, []ConsentChange] `json:"consents,omitzero"`
	// ArmedSoFar counts the armed runs, for their ids.
	ArmedSoFar int `json:"armed_so_far"`
	// Checks are the reference checks of all meets, oldest first; Dropped are runs
	// that were taken out of theirs.
	Checks  []Check                `json:"checks,omitempty"`
	Dropped map[day.RunID]struct{} `json:"dropped,omitempty"`

	// Periods are the divisions of meets that were rated, in the order in which they
	// were first.
	Periods []RatingPeriod `json:"periods,omitempty"`

	// Sessions are the practice sessions, oldest first.
	Sessions []workshop.Session `json:"sessions,omitempty"`
	// Lives are what cars were made of, for those of which somebody noted it.
	Lives trie.Map[day.CarID, workshop.Life] `json:"lives,omitzero"`
	// Marks are what was said of runs after they were recorded.
	Marks trie.Map[day.RunID, workshop.Mark] `json:"marks,omitzero"`
	// TakenBack is the last armed run of each bench that was taken back: it may have
	// been under way.
	TakenBack map[day.BenchID]Armed `json:"taken_back,omitempty"`

	// moved are the runs that were moved to each car.
	moved trie.Map[day.CarID, []day.RunID]

	// The newest run of all, of each car, and of reference checks: each leads to the
	// one before of its kind.
	newest          *Practice
	newestOf        trie.Map[day.CarID, *Practice]
	newestReference *Practice

	// What runs came to as they are shown now: the farthest of each car and length, and
	// the sums of each car and state.
	farthest trie.Map[carRace, *Practice]
	driven   trie.Map[carState, Driven]

	owner *trie.Owner // of the maps, while nobody shares them
}

// Bench is a registered bench.
type Bench struct {
	day.Bench
	// ChangedUS is when its settings were given last.
	ChangedUS int64 `json:"-"`
}

// Car is a car of the club, known by the number on it.
type Car struct {
	ID      day.CarID `json:"id"`
	Number  int       `json:"number"`
	WheelUM int64     `json:"wheel_um,omitempty"` // wheel diameter, µm
	// Reference marks a car that nobody races with: it compares benches.
	Reference bool `json:"reference,omitempty"`
}

// New is the state of a club without events.
func New() *State {
	return &State{
		owner:   &trie.Owner{},
		Benches: map[day.BenchID]Bench{},
		Armed:   map[day.BenchID]Armed{},
		Erased:  map[day.EntrantID]int64{},
		Retired: map[day.BenchID]struct{}{},
		Dropped: map[day.RunID]struct{}{},

		TakenBack: map[day.BenchID]Armed{},
	}
}

// Clone is a copy that Evolve may change while others read s. It costs a copy of
// the benches, of who was erased, and of the other small maps. The first Clone of a
// state that New made ends its quick folding in place and must be alone; those of
// its clones may be made by many goroutines at once.
func (s *State) Clone() *State {
	if s.owner != nil {
		s.owner = nil
	}
	c := *s
	c.Benches = maps.Clone(s.Benches)
	c.Armed = maps.Clone(s.Armed)
	c.Erased = maps.Clone(s.Erased)
	c.Retired = maps.Clone(s.Retired)
	c.Dropped = maps.Clone(s.Dropped)
	c.TakenBack = maps.Clone(s.TakenBack)
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
	out := make([]Car, 0, s.Cars.Len())
	for _, c := range s.Cars.All() {
		out = append(out, c)
	}
	slices.SortFunc(out, func(a, b Car) int {
		return cmp.Or(cmp.Compare(a.Number, b.Number), cmp.Compare(a.ID, b.ID))
	})
	return out
}

func (s *State) bench(id day.BenchID) (Bench, error) {
	b, there := s.Benches[id]
	if !there {
		return b, refusal.New("no-bench", "bench", id)
	}
	if _, retired := s.Retired[id]; retired {
		return b, refusal.New("bench-retired", "bench", id)
	}
	return b, nil
}
