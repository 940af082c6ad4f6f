package meet

import (
	"benchmeet/domain/day"
	"benchmeet/domain/refusal"
)

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
