package meet

import "benchmeet/domain/refusal"

// LetRunStand rules that a counting run stays the result although its pulses are
// in doubt, or a re-run was asked for.
type LetRunStand struct {
	Heat   HeatID
	Entry  EntryID
	Reason Reason
}

// RunLeftStanding says that a doubtful run stays the result.
type RunLeftStanding struct {
	Ruled
	Heat  HeatID  `json:"heat"`
	Entry EntryID `json:"entry"`
	Run   RunID   `json:"run"`
}

func (c LetRunStand) decide(s *State, m Meta) ([]Event, error) {
	h, i, ruled, err := ruledLane(s, m, c.Heat, c.Entry, c.Reason)
	if err != nil {
		return nil, err
	}
	run := h.Lanes[i].Counts
	if run == "" {
		return nil, refusal.New("ask-early", "number", s.Number(c.Entry), "heat", h.ID)
	}
	return []Event{RunLeftStanding{Ruled: ruled, Heat: h.ID, Entry: c.Entry, Run: run}}, nil
}

// Type is the name in the log.
func (RunLeftStanding) Type() string { return "RunLeftStanding" }

func (e RunLeftStanding) apply(s *State) {
	s.rule(e.Type(), e.Ruled, Ruling{Heat: e.Heat, Entry: e.Entry, Run: e.Run})
}
