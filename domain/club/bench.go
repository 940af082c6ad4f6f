package club

import (
	"fmt"
	"slices"

	"benchmeet/domain/day"
	"benchmeet/domain/meet"
	"benchmeet/domain/refusal"
)

// RegisterBench makes a bench known, or changes its settings. Meets keep the
// settings that they copied.
type RegisterBench struct {
	Bench day.Bench
	// Sure says that the roller is as large as it says, though the others are not.
	Sure bool
	// Edition is what the save rests on, see [day.CheckEdition].
	Edition string
}

// BenchRegistered says what a bench is.
type BenchRegistered struct {
	Bench day.Bench `json:"bench"`
}

func (c RegisterBench) decide(s *State, _ meet.Meta) ([]Event, error) {
	c.Bench.OutOfService, c.Bench.OutReason = false, ""
	if err := c.Bench.Check(); err != nil {
		return nil, err
	}
	for _, other := range s.SortedBenches() {
		if other.Number == c.Bench.Number && other.ID != c.Bench.ID {
			return nil, refusal.New("bench-number", "number", c.Bench.Number, "bench", other.ID)
		}
	}
	_, retired := s.Retired[c.Bench.ID]
	if old, there := s.Benches[c.Bench.ID]; there && old.Bench == c.Bench && !retired {
		return nil, nil
	}
	if old, there := s.Benches[c.Bench.ID]; there {
		if err := day.CheckEdition(c.Edition, old.Edition()); err != nil {
			return nil, err
		}
	}
	if usual, unlike := s.unlikeOthers(c.Bench); unlike && !c.Sure {
		return nil, refusal.New("bench-unlike", "mm", millimetres(c.Bench.CircumferenceUM), "usual", millimetres(usual))
	}
	return []Event{BenchRegistered{Bench: c.Bench}}, nil
}

// unlikeOthers says whether a roller's circumference is another one altogether than
// those of the club's other benches, of which it gives the middle one, in µm. A slipped
// decimal point makes ten of it, a diameter in its place a third (common practice:
// the rollers of a club are alike, or differ by less than half).
func (s *State) unlikeOthers(b day.Bench) (usualUM int64, unlike bool) {
	var others []int64
	for _, other := range s.SortedBenches() {
		if _, retired := s.Retired[other.ID]; !retired && other.ID != b.ID {
			others = append(others, other.CircumferenceUM)
		}
	}
	if len(others) == 0 {
		return 0, false
	}
	slices.Sort(others)
	usualUM = others[(len(others)-1)/2]
	return usualUM, 2*b.CircumferenceUM > 5*usualUM || 5*b.CircumferenceUM < 2*usualUM
}

func millimetres(um int64) string { return fmt.Sprintf("%d.%01d", um/1000, um%1000/100) }

// Type is the name in the log.
func (BenchRegistered) Type() string { return "BenchRegistered" }

func (e BenchRegistered) apply(s *State) {
	s.Benches[e.Bench.ID] = Bench{e.Bench, s.TimeUS}
	delete(s.Retired, e.Bench.ID)
}

// RetireBench takes a bench out of use. Registering it again brings it back.
type RetireBench struct {
	Bench day.BenchID
}

// BenchRetired says that a bench is out of use.
type BenchRetired struct {
	Bench day.BenchID `json:"bench"`
}

func (c RetireBench) decide(s *State, _ meet.Meta) ([]Event, error) {
	if _, err := s.bench(c.Bench); err != nil {
		return nil, err
	}
	return []Event{BenchRetired(c)}, nil
}

// Type is the name in the log.
func (BenchRetired) Type() string { return "BenchRetired" }

func (e BenchRetired) apply(s *State) {
	s.Retired[e.Bench] = struct{}{}
	delete(s.Armed, e.Bench)
}
