package meet

import "benchmeet/domain/refusal"

// MoveLane brings a called car to another bench before the start.
type MoveLane struct {
	Heat  HeatID
	Entry EntryID
	Bench BenchID
}

// LaneMoved says that a called car goes to another bench.
type LaneMoved struct {
	Heat  HeatID  `json:"heat"`
	Entry EntryID `json:"entry"`
	Bench BenchID `json:"bench"`
	Run   RunID   `json:"run"`
	By    string  `json:"by"`
}

func (c MoveLane) decide(s *State, m Meta) ([]Event, error) {
	h, i, err := s.HeatLane(c.Heat, c.Entry)
	if err != nil {
		return nil, err
	}
	if !OneOf(h.Lanes[i].State, LaneCalled, LaneReady) {
		return nil, refusal.New("not-called", "heat", h.ID)
	}
	if h.Lanes[i].Bench == c.Bench {
		return nil, nil
	}
	if err := checkAsked(s, []BenchID{c.Bench}, 1); err != nil {
		return nil, err
	}
	// A fresh run id, so that what the old bench may still send is told apart.
	return []Event{LaneMoved{h.ID, c.Entry, c.Bench, RunIDOf(h.ID, i, h.Lanes[i].Attempt+1), m.Actor}}, nil
}

// Type is the name in the log.
func (LaneMoved) Type() string { return "LaneMoved" }

func (e LaneMoved) apply(s *State) {
	h := s.Heats[e.Heat]
	i, in := h.Lane(e.Entry)
	if !in {
		return
	}
	l := h.Lanes[i]
	l.Bench, l.Armed, l.State = e.Bench, e.Run, LaneCalled
	l.Attempt++
	s.Heats[e.Heat] = h.withLane(i, l)
}
