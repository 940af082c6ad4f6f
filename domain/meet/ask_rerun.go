package meet

import (
	"benchmeet/domain/board"
	"benchmeet/domain/day"
	"benchmeet/domain/refusal"
)

// AskRerun asks for a re-run from a bench.
type AskRerun struct {
	Heat   day.HeatID
	Entry  day.EntryID
	Reason day.Reason
}

func (c AskRerun) decide(s *day.State, m Meta) ([]day.Event, error) {
	h, i, err := s.HeatLane(c.Heat, c.Entry)
	if err != nil {
		return nil, err
	}
	if err := c.Reason.Check(); err != nil {
		return nil, err
	}
	l := h.Lanes[i]
	switch {
	case board.Unanswered(s, h, l):
		return nil, nil
	case h.Phase == day.PhaseOfficial:
		return nil, refusal.New("protest-official", "heat", h.ID)
	case l.State != day.LaneRacing && l.Counts == "":
		return nil, refusal.New("ask-early", "number", s.Number(c.Entry), "heat", h.ID)
	}
	return []day.Event{day.RerunAsked{Heat: h.ID, Entry: c.Entry, By: m.Actor, Reason: c.Reason}}, nil
}

// TurnDownRerun answers a request for a re-run with no.
type TurnDownRerun struct {
	Heat   day.HeatID
	Entry  day.EntryID
	Reason day.Reason
}

func (c TurnDownRerun) decide(s *day.State, m Meta) ([]day.Event, error) {
	h, i, ruled, err := ruledLane(s, m, c.Heat, c.Entry, c.Reason)
	if err != nil {
		return nil, err
	}
	if !board.Unanswered(s, h, h.Lanes[i]) {
		return nil, refusal.New("ask-none", "number", s.Number(c.Entry), "heat", h.ID)
	}
	return []day.Event{day.RerunTurnedDown{Ruled: ruled, Heat: h.ID, Entry: c.Entry}}, nil
}
