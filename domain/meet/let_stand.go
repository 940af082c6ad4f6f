package meet

import (
	"benchmeet/domain/day"
	"benchmeet/domain/refusal"
)

// LetRunStand rules that a counting run stays the result although its pulses are
// in doubt, or a re-run was asked for.
type LetRunStand struct {
	Heat   day.HeatID
	Entry  day.EntryID
	Reason day.Reason
}

func (c LetRunStand) decide(s *day.State, m Meta) ([]day.Event, error) {
	h, i, ruled, err := ruledLane(s, m, c.Heat, c.Entry, c.Reason)
	if err != nil {
		return nil, err
	}
	run := h.Lanes[i].Counts
	if run == "" {
		return nil, refusal.New("ask-early", "number", s.Number(c.Entry), "heat", h.ID)
	}
	return []day.Event{day.RunLeftStanding{Ruled: ruled, Heat: h.ID, Entry: c.Entry, Run: run}}, nil
}
