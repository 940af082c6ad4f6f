package meet

import (
	"benchmeet/domain/day"
	"benchmeet/domain/refusal"
)

// AskRerun asks for a re-run from a bench.
type AskRerun struct {
	Heat   day.HeatID
	Entry  day.EntryID
	Reason day.Reason
}

func (c AskRerun) decide(s *day.State, m day.Meta) ([]day.Event, error) {
	h, i, err := s.HeatLane(c.Heat, c.Entry)
	if err != nil {
		return nil, err
	}
	if err := c.Reason.Check(); err != nil {
		return nil, err
	}
	l := h.Lanes[i]
	switch {
	case Unanswered(s, h, l):
		return nil, nil
	case h.Phase == day.PhaseOfficial:
		return nil, refusal.New("protest-official", "heat", h.ID)
	case l.State != day.LaneRacing && l.Counts == "":
		return nil, refusal.New("ask-early", "number", s.Number(c.Entry), "heat", h.ID)
	}
	return []day.Event{day.RerunAsked{Heat: h.ID, Entry: c.Entry, By: m.Actor, Reason: c.Reason}}, nil
}

// AskOpen is the request for a re-run that waits for an answer in a lane, if
// there is one.
func AskOpen(s *day.State, h day.Heat, l day.Lane) (day.Ask, bool) {
	if !Unanswered(s, h, l) {
		return day.Ask{}, false
	}
	return *l.Asked, true
}

// Unanswered says whether a request waits for an answer: no ruling about the lane
// has followed it.
func Unanswered(s *day.State, h day.Heat, l day.Lane) bool {
	if l.Asked == nil || h.Phase == day.PhaseOfficial {
		return false
	}
	for _, r := range s.Rulings[l.Asked.Rulings:] {
		if r.Heat == h.ID && (r.Entry == l.Entry || r.Entry == "") {
			return false
		}
	}
	return true
}

// TurnDownRerun answers a request for a re-run with no.
type TurnDownRerun struct {
	Heat   day.HeatID
	Entry  day.EntryID
	Reason day.Reason
}

func (c TurnDownRerun) decide(s *day.State, m day.Meta) ([]day.Event, error) {
	h, i, ruled, err := ruledLane(s, m, c.Heat, c.Entry, c.Reason)
	if err != nil {
		return nil, err
	}
	if !Unanswered(s, h, h.Lanes[i]) {
		return nil, refusal.New("ask-none", "number", s.Number(c.Entry), "heat", h.ID)
	}
	return []day.Event{day.RerunTurnedDown{Ruled: ruled, Heat: h.ID, Entry: c.Entry}}, nil
}
