package day

// BenchAdded says that the meet has a bench, with these settings.
type BenchAdded struct {
	Bench Bench `json:"bench"`
}

// Type is the name in the log.
func (BenchAdded) Type() string { return "BenchAdded" }

func (e BenchAdded) apply(s *State) {
	before := s.Benches[e.Bench.ID]
	e.Bench.OutSinceUS, e.Bench.BackUS = before.OutSinceUS, before.BackUS
	s.Benches[e.Bench.ID] = e.Bench
}

// BenchServiceChanged says that a bench takes heats, or takes none.
type BenchServiceChanged struct {
	Bench  BenchID    `json:"bench"`
	Out    bool       `json:"out"`
	By     string     `json:"by"`
	Reason ReasonCode `json:"reason,omitempty"`
}

// Type is the name in the log.
func (BenchServiceChanged) Type() string { return "BenchServiceChanged" }

func (e BenchServiceChanged) apply(s *State) {
	b := s.Benches[e.Bench]
	b.OutOfService, b.OutReason, b.OutSinceUS = e.Out, string(e.Reason), 0
	if e.Out {
		b.OutSinceUS = s.TimeUS
	} else {
		b.BackUS = s.TimeUS
	}
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
