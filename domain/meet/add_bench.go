package meet

import "benchmeet/domain/refusal"

// AddBench brings a bench of the club into the meet with a copy of its
// settings, or replaces the copy while no heat needs the bench.
type AddBench struct {
	Bench Bench
}

// BenchAdded says that the meet has a bench, with these settings.
type BenchAdded struct {
	Bench Bench `json:"bench"`
}

func (c AddBench) decide(s *State, _ Meta) ([]Event, error) {
	if err := s.MustBePlanned(); err != nil {
		return nil, err
	}
	// Only ChangeBenchService takes a bench out or puts it back, with a reason.
	now := s.Benches[c.Bench.ID]
	c.Bench.OutOfService, c.Bench.OutReason = now.OutOfService, now.OutReason
	if err := c.Bench.Check(); err != nil {
		return nil, err
	}
	if h, busy := s.HeatOn(c.Bench.ID); busy {
		return nil, refusal.New("bench-busy", "bench", c.Bench.ID, "heat", h)
	}
	for _, other := range s.SortedBenches() {
		if other.Number == c.Bench.Number && other.ID != c.Bench.ID {
			return nil, refusal.New("bench-number", "number", c.Bench.Number, "bench", other.ID)
		}
	}
	return []Event{BenchAdded(c)}, nil
}

// Type is the name in the log.
func (BenchAdded) Type() string { return "BenchAdded" }

func (e BenchAdded) apply(s *State) { s.Benches[e.Bench.ID] = e.Bench }

// ChangeBenchService takes a bench out of service or puts it back.
type ChangeBenchService struct {
	Bench  BenchID
	Out    bool
	Reason Reason
}

// BenchServiceChanged says that a bench takes heats, or takes none.
type BenchServiceChanged struct {
	Bench  BenchID    `json:"bench"`
	Out    bool       `json:"out"`
	By     string     `json:"by"`
	Reason ReasonCode `json:"reason,omitempty"`
}

func (c ChangeBenchService) decide(s *State, m Meta) ([]Event, error) {
	b, err := s.Bench(c.Bench)
	if err != nil {
		return nil, err
	}
	if b.OutOfService == c.Out {
		return nil, nil
	}
	e := BenchServiceChanged{Bench: c.Bench, Out: c.Out, By: m.Actor}
	if c.Out {
		if err := c.Reason.Check(); err != nil {
			return nil, err
		}
		e.Reason = c.Reason.Code
	}
	return []Event{e}, nil
}

// Type is the name in the log.
func (BenchServiceChanged) Type() string { return "BenchServiceChanged" }

func (e BenchServiceChanged) apply(s *State) {
	b := s.Benches[e.Bench]
	b.OutOfService, b.OutReason = e.Out, string(e.Reason)
	s.Benches[e.Bench] = b
}

// HeatOn finds the heat for which a bench is taken now.
func (s *State) HeatOn(bench BenchID) (HeatID, bool) {
	found, first := false, HeatID("")
	for id, h := range s.Heats {
		if h.Phase != PhaseCalled && h.Phase != PhaseRacing {
			continue
		}
		for _, l := range h.Lanes {
			if l.Bench == bench && l.State != LaneDone && (!found || id < first) {
				found, first = true, id
			}
		}
	}
	return first, found
}
