package meet

import (
	"benchmeet/domain/board"
	"benchmeet/domain/day"
	"benchmeet/domain/refusal"
)

// SetClock rules that the times of the day were ahead, because the server's clock was,
// and go on by its clock as it is now. Protest times, calls and rests that began at a
// wrong time end as long after their beginning as before.
type SetClock struct {
	Reason day.Reason
}

// ByServerClock says that Meta.NowUS is the server's clock even where that is before the
// last event.
func (SetClock) ByServerClock() {}

func (c SetClock) decide(s *day.State, m Meta) ([]day.Event, error) {
	if err := s.MustBePlanned(); err != nil {
		return nil, err
	}
	back := board.AheadUS(s, m.NowUS)
	if back == 0 {
		return nil, refusal.New("clock-right")
	}
	ruled, err := ruledBy(s, m, c.Reason)
	if err != nil {
		return nil, err
	}
	return []day.Event{day.ClockSet{Ruled: ruled, SinceUS: day.WrongSinceUS(s, m.NowUS), BackUS: back}}, nil
}
