package club

import (
	"benchmeet/domain/day"
	"benchmeet/domain/meet"
	"benchmeet/domain/refusal"
)

// RegisterBench makes a bench known, or changes its settings. Meets keep the
// settings that they copied.
type RegisterBench struct {
	Bench day.Bench
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
	return []Event{BenchRegistered(c)}, nil
}

// Type is the name in the log.
func (BenchRegistered) Type() string { return "BenchRegistered" }

func (e BenchRegistered) apply(s *State) {
	s.Benches[e.Bench.ID] = Bench{e.Bench}
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
