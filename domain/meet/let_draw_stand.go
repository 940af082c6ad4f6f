package meet

import (
	"benchmeet/domain/day"
	"benchmeet/domain/programme"
	"benchmeet/domain/refusal"
)

// LetDrawStand rules that the last draw of a division stands although a result
// below it has changed: its heats were called already, so that it cannot be drawn
// again, or everybody has agreed to race on. Whoever was wronged by that is for
// the official to weigh; results are not touched.
type LetDrawStand struct {
	Division day.DivisionID
	Reason   day.Reason
}

func (c LetDrawStand) decide(s *day.State, m Meta) ([]day.Event, error) {
	d, err := s.Division(c.Division)
	if err != nil {
		return nil, err
	}
	ruled, err := ruledBy(s, m, c.Reason)
	if err != nil {
		return nil, err
	}
	if !programme.Outdated(s, d.ID) {
		return nil, refusal.New("draw-current", "division", d.ID)
	}
	return []day.Event{day.DrawLetStand{Ruled: ruled, Division: d.ID, Sum: programme.SumOf(programme.Replaced(s, d.ID))}}, nil
}
