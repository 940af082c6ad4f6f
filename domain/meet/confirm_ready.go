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
	if c.cameTrue(s, h) {
		return nil, nil
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

// cameTrue says whether there is nothing left to confirm: the very car stands ready,
// races or has raced at the very bench. A phone in bad Wi-Fi is late, and somebody
// else may have confirmed it meanwhile.
func (c ConfirmReady) cameTrue(s *day.State, h day.Heat) bool {
	for _, l := range h.Lanes {
		if l.Bench != c.Bench || s.Number(l.Entry) != c.StartNumber {
			continue
		}
		if day.OneOf(l.State, day.LaneReady, day.LaneRacing) || l.State == day.LaneDone && l.Counts != "" {
			return true
		}
	}
	return false
}

// TakeReadyBack says from a bench that the car is not ready after all, before the
// start. A car that is still called needs no taking back.
type TakeReadyBack struct {
	Heat  day.HeatID
	Bench day.BenchID
}

func (c TakeReadyBack) decide(s *day.State, m Meta) ([]day.Event, error) {
	h, err := s.Heat(c.Heat)
	if err != nil {
		return nil, err
	}
	for _, l := range h.Lanes {
		if l.Bench != c.Bench {
			continue
		}
		switch l.State {
		case day.LaneCalled:
			return nil, nil
		case day.LaneReady:
			return []day.Event{day.ReadyTakenBack{Heat: h.ID, Bench: c.Bench, Entry: l.Entry, By: m.Actor}}, nil
		case day.LaneRacing, day.LaneDone:
			return nil, refusal.New("ready-raced", "bench", s.Plate(c.Bench), "number", s.Number(l.Entry))
		}
	}
	return nil, refusal.New("bench-not-called", "bench", s.Plate(c.Bench), "heat", h.ID)
}
