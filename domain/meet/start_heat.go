package meet

import (
	"benchmeet/domain/day"
	"benchmeet/domain/inspection"
	"benchmeet/domain/refusal"
)

// ConfirmReady says from a bench that the called car stands there: the number on
// the car is read and typed, and must be the lane's. So may be the number of its
// battery pack; without one it is the pack that the entry was last known to have.
type ConfirmReady struct {
	Heat        day.HeatID
	Bench       day.BenchID
	StartNumber int
	Pack        day.PackID
}

func (c ConfirmReady) decide(s *day.State, m Meta) ([]day.Event, error) {
	h, err := s.Heat(c.Heat)
	if err != nil {
		return nil, err
	}
	if s.Paused {
		return nil, refusal.New("paused")
	}
	for _, l := range h.Lanes {
		if l.Bench != c.Bench || l.State == day.LaneDone {
			continue
		}
		switch {
		case s.Number(l.Entry) != c.StartNumber:
			return nil, refusal.New("wrong-car", "bench", s.Plate(c.Bench), "expected", s.Number(l.Entry), "number", c.StartNumber)
		case l.State == day.LaneReady:
			return nil, nil
		case l.State == day.LaneCalled && h.Phase == day.PhaseCalled:
			pack, err := inspection.MayRace(s, h, l, c.Pack, m.NowUS)
			if err != nil {
				return nil, err
			}
			return []day.Event{day.BenchReady{Heat: h.ID, Bench: c.Bench, Entry: l.Entry, By: m.Actor, Pack: pack}}, nil
		}
	}
	return nil, refusal.New("bench-not-called", "bench", s.Plate(c.Bench), "heat", h.ID)
}

// StartHeat starts a heat when every car is ready or ruled out.
type StartHeat struct {
	Heat day.HeatID
}

func (c StartHeat) decide(s *day.State, m Meta) ([]day.Event, error) {
	h, err := s.Heat(c.Heat)
	if err != nil {
		return nil, err
	}
	switch {
	case s.Paused:
		return nil, refusal.New("paused")
	case h.Phase == day.PhaseRacing:
		return nil, nil
	case h.Phase != day.PhaseCalled:
		return nil, refusal.New("not-called", "heat", h.ID)
	}
	for _, l := range h.Lanes {
		if l.State == day.LaneCalled {
			return nil, refusal.New("lane-not-ready", "bench", s.Plate(l.Bench), "number", s.Number(l.Entry))
		}
		if l.State == day.LaneReady && s.Packs[l.Pack].Hurt {
			return nil, refusal.New("pack-hurt")
		}
		if l.State == day.LaneReady && s.Benches[l.Bench].OutOfService {
			return nil, refusal.New("bench-out", "bench", l.Bench)
		}
	}
	ends := m.NowUS + s.Divisions[h.Division].Stages[h.Stage-1].RaceUS
	return []day.Event{day.HeatStarted{Heat: h.ID, By: m.Actor, EndsUS: ends}}, nil
}
