package meet

import "benchmeet/domain/refusal"

// Ask is a volunteer's request for a re-run. It decides nothing: an official
// grants a re-run or turns the request down.
type Ask struct {
	By     string `json:"by"`
	AtUS   int64  `json:"at_us"`
	Reason Reason `json:"reason"`
	// Rulings is how many rulings there were; a later one about the lane answers.
	Rulings int `json:"rulings"`
}

// AskRerun asks for a re-run from a bench.
type AskRerun struct {
	Heat   HeatID
	Entry  EntryID
	Reason Reason
}

// RerunAsked says that a re-run was asked for.
type RerunAsked struct {
	Heat   HeatID  `json:"heat"`
	Entry  EntryID `json:"entry"`
	By     string  `json:"by"`
	Reason Reason  `json:"reason"`
}

func (c AskRerun) decide(s *State, m Meta) ([]Event, error) {
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
	case h.Phase == PhaseOfficial:
		return nil, refusal.New("protest-official", "heat", h.ID)
	case l.State != LaneRacing && l.Counts == "":
		return nil, refusal.New("ask-early", "number", s.Number(c.Entry), "heat", h.ID)
	}
	return []Event{RerunAsked{Heat: h.ID, Entry: c.Entry, By: m.Actor, Reason: c.Reason}}, nil
}

// AskOpen is the request for a re-run that waits for an answer in a lane, if
// there is one.
func AskOpen(s *State, h Heat, l Lane) (Ask, bool) {
	if !Unanswered(s, h, l) {
		return Ask{}, false
	}
	return *l.Asked, true
}

// Unanswered says whether a request waits for an answer: no ruling about the lane
// has followed it.
func Unanswered(s *State, h Heat, l Lane) bool {
	if l.Asked == nil || h.Phase == PhaseOfficial {
		return false
	}
	for _, r := range s.Rulings[l.Asked.Rulings:] {
		if r.Heat == h.ID && (r.Entry == l.Entry || r.Entry == "") {
			return false
		}
	}
	return true
}

// Type is the name in the log.
func (RerunAsked) Type() string { return "RerunAsked" }

func (e RerunAsked) apply(s *State) {
	h := s.Heats[e.Heat]
	if i, in := h.Lane(e.Entry); in {
		l := h.Lanes[i]
		l.Asked = &Ask{By: e.By, AtUS: s.TimeUS, Reason: e.Reason, Rulings: len(s.Rulings)}
		s.Heats[e.Heat] = h.withLane(i, l)
	}
}

// TurnDownRerun answers a request for a re-run with no.
type TurnDownRerun struct {
	Heat   HeatID
	Entry  EntryID
	Reason Reason
}

// RerunTurnedDown says that a request for a re-run was turned down.
type RerunTurnedDown struct {
	Ruled
	Heat  HeatID  `json:"heat"`
	Entry EntryID `json:"entry"`
}

func (c TurnDownRerun) decide(s *State, m Meta) ([]Event, error) {
	h, i, ruled, err := ruledLane(s, m, c.Heat, c.Entry, c.Reason)
	if err != nil {
		return nil, err
	}
	if !Unanswered(s, h, h.Lanes[i]) {
		return nil, refusal.New("ask-none", "number", s.Number(c.Entry), "heat", h.ID)
	}
	return []Event{RerunTurnedDown{Ruled: ruled, Heat: h.ID, Entry: c.Entry}}, nil
}

// Type is the name in the log.
func (RerunTurnedDown) Type() string { return "RerunTurnedDown" }

func (e RerunTurnedDown) apply(s *State) {
	s.rule(e.Type(), e.Ruled, Ruling{Heat: e.Heat, Entry: e.Entry})
}
