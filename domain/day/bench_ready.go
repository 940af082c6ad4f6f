package day

// BenchReady says that the right car stands at the bench.
type BenchReady struct {
	Heat  HeatID  `json:"heat"`
	Bench BenchID `json:"bench"`
	Entry EntryID `json:"entry"`
	By    string  `json:"by"`
	// Pack is the battery pack in the car, where the class asks for checks.
	Pack PackID `json:"pack,omitempty"`
}

// Type is the name in the log.
func (BenchReady) Type() string { return "BenchReady" }

func (e BenchReady) apply(s *State) {
	h := s.Heats[e.Heat]
	if i, in := h.Lane(e.Entry); in {
		l := h.Lanes[i]
		l.State, l.Pack = LaneReady, e.Pack
		s.Heats[e.Heat] = h.withLane(i, l)
	}
}

// ReadyTakenBack says that the car at a bench is not ready after all: its lane is
// called as before.
type ReadyTakenBack struct {
	Heat  HeatID  `json:"heat"`
	Bench BenchID `json:"bench"`
	Entry EntryID `json:"entry"`
	By    string  `json:"by"`
}

// Type is the name in the log.
func (ReadyTakenBack) Type() string { return "ReadyTakenBack" }

func (e ReadyTakenBack) apply(s *State) {
	h := s.Heats[e.Heat]
	if i, in := h.Lane(e.Entry); in {
		l := h.Lanes[i]
		l.State, l.Pack = LaneCalled, ""
		s.Heats[e.Heat] = h.withLane(i, l)
	}
}

// HeatStarted says that the starter let the cars go.
type HeatStarted struct {
	Heat HeatID `json:"heat"`
	By   string `json:"by"`
	// EndsUS is when the race ends.
	EndsUS int64 `json:"ends_us,omitempty"`
	Aged
}

// Type is the name in the log.
func (HeatStarted) Type() string { return "HeatStarted" }

func (e HeatStarted) apply(s *State) {
	h := s.Heats[e.Heat].withLanes(func(_ int, l Lane) Lane {
		if l.State == LaneReady {
			l.State = LaneRacing
			s.ranOn(l, e)
		}
		return l
	})
	h.Phase, h.StartedUS, h.DeadlineUS = PhaseRacing, s.TimeUS, 0
	s.Heats[e.Heat] = h
}

// ranOn notes the race on the pack that stands in the car.
func (s *State) ranOn(l Lane, e HeatStarted) {
	p, there := s.Packs[l.Pack]
	if !there {
		return
	}
	p.Runs = append(p.Runs[:len(p.Runs):len(p.Runs)], packRun{Heat: e.Heat, Run: l.Armed, FromUS: s.TimeUS, ToUS: e.EndsUS})
	s.setPack(p)
}
