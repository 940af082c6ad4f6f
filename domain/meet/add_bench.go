package meet

import (
	"benchmeet/domain/day"
	"benchmeet/domain/refusal"
)

// AddBench brings a bench of the club into the meet with a copy of its
// settings, or replaces the copy while no heat needs the bench.
type AddBench struct {
	Bench day.Bench
}

func (c AddBench) decide(s *day.State, _ Meta) ([]day.Event, error) {
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
	return []day.Event{day.BenchAdded(c)}, nil
}

// ChangeBenchService takes a bench out of service or puts it back.
type ChangeBenchService struct {
	Bench  day.BenchID
	Out    bool
	Reason day.Reason
}

func (c ChangeBenchService) decide(s *day.State, m Meta) ([]day.Event, error) {
	b, err := s.Bench(c.Bench)
	if err != nil {
		return nil, err
	}
	if b.OutOfService == c.Out {
		return nil, nil
	}
	e := day.BenchServiceChanged{Bench: c.Bench, Out: c.Out, By: m.Actor}
	if c.Out {
		if err := c.Reason.Check(); err != nil {
			return nil, err
		}
		e.Reason = c.Reason.Code
	}
	return []day.Event{e}, nil
}
