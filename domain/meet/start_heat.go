package meet

import "benchmeet/domain/refusal"

// ConfirmReady says from a bench that the called car stands there: the number on
// the car is read and typed, and must be the lane's. So may be the number of its
// battery pack; without one it is the pack that the entry was last known to have.
type ConfirmReady struct {
	Heat        HeatID
	Bench       BenchID
	StartNumber int
	Pack        PackID
}

// BenchReady says that the right car stands at the bench.
type BenchReady struct {
	Heat  HeatID  `json:"heat"`
	Bench BenchID `json:"bench"`
	Entry EntryID `json:"entry"`
	By    string  `json:"by"`
	// Pack is the battery pack in the car, where the class asks for checks.
	Pack PackID `json:"pack,omitempty"`
}

func (c ConfirmReady) decide(s *State, m Meta) ([]Event, error) {
	h, err := s.Heat(c.Heat)
	if err != nil {
		return nil, err
	}
	if s.Paused {
		return nil, refusal.New("paused")
	}
	for _, l := range h.Lanes {
		if l.Bench != c.Bench || l.State == LaneDone {
			continue
		}
		switch {
		case s.Number(l.Entry) != c.StartNumber:
			return nil, refusal.New("wrong-car", "bench", s.Plate(c.Bench), "expected", s.Number(l.Entry), "number", c.StartNumber)
		case l.State == LaneReady:
			return nil, nil
		case l.State == LaneCalled && h.Phase == PhaseCalled:
			pack, err := MayRace(s, h, l, c.Pack, m.NowUS)
			if err != nil {
				return nil, err
			}
			return []Event{BenchReady{h.ID, c.Bench, l.Entry, m.Actor, pack}}, nil
		}
	}
	return nil, refusal.New("bench-not-called", "bench", s.Plate(c.Bench), "heat", h.ID)
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

// StartHeat starts a heat when every car is ready or ruled out.
type StartHeat struct {
	Heat HeatID
}

// HeatStarted says that the starter let the cars go.
type HeatStarted struct {
	Heat HeatID `json:"heat"`
	By   string `json:"by"`
}

func (c StartHeat) decide(s *State, m Meta) ([]Event, error) {
	h, err := s.Heat(c.Heat)
	if err != nil {
		return nil, err
	}
	switch {
	case s.Paused:
		return nil, refusal.New("paused")
	case h.Phase == PhaseRacing:
		return nil, nil
	case h.Phase != PhaseCalled:
		return nil, refusal.New("not-called", "heat", h.ID)
	}
	for _, l := range h.Lanes {
		if l.State == LaneCalled {
			return nil, refusal.New("lane-not-ready", "bench", s.Plate(l.Bench), "number", s.Number(l.Entry))
		}
		if l.State == LaneReady && s.Packs[l.Pack].Hurt {
			return nil, refusal.New("pack-hurt")
		}
		if l.State == LaneReady && s.Benches[l.Bench].OutOfService {
			return nil, refusal.New("bench-out", "bench", l.Bench)
		}
	}
	return []Event{HeatStarted{h.ID, m.Actor}}, nil
}

// Type is the name in the log.
func (HeatStarted) Type() string { return "HeatStarted" }

func (e HeatStarted) apply(s *State) {
	h := s.Heats[e.Heat].withLanes(func(_ int, l Lane) Lane {
		if l.State == LaneReady {
			l.State = LaneRacing
			s.ranOn(l, e.Heat)
		}
		return l
	})
	h.Phase, h.StartedUS, h.DeadlineUS = PhaseRacing, s.TimeUS, 0
	s.Heats[e.Heat] = h
}

// ranOn notes the race on the pack that stands in the car.
func (s *State) ranOn(l Lane, heat HeatID) {
	p, there := s.Packs[l.Pack]
	if !there {
		return
	}
	h := s.Heats[heat]
	race := s.Divisions[h.Division].Stages[h.Stage-1].RaceUS
	p.Runs = append(p.Runs[:len(p.Runs):len(p.Runs)], PackRun{Heat: heat, Run: l.Armed, FromUS: s.TimeUS, ToUS: s.TimeUS + race})
	s.setPack(p)
}
