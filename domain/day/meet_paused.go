package day

// MeetPaused says that the day stands still.
type MeetPaused struct {
	By     string     `json:"by"`
	Reason ReasonCode `json:"reason"`
}

// RaceClock is the instant at which call and protest deadlines are read: it stands
// still while the meet is paused, so that nothing runs out during a pause and
// what had run out before it stays so.
func (s *State) RaceClock(nowUS int64) int64 {
	if s.Paused {
		return min(nowUS, s.PausedUS)
	}
	return nowUS
}

// Type is the name in the log.
func (MeetPaused) Type() string { return "MeetPaused" }

func (e MeetPaused) apply(s *State) {
	s.Paused, s.PausedUS, s.PausedBecause = true, s.TimeUS, e.Reason
}

// MeetResumed says that the day goes on, and by how much deadlines shift.
type MeetResumed struct {
	By      string `json:"by"`
	ShiftUS int64  `json:"shift_us"`
}

// Type is the name in the log.
func (MeetResumed) Type() string { return "MeetResumed" }

func (e MeetResumed) apply(s *State) {
	since := s.PausedUS
	s.Paused, s.PausedUS, s.PausedBecause = false, 0, ""
	if len(s.Packs) > 0 {
		s.BatteriesSinceUS = s.TimeUS
	}
	for id, h := range s.Heats {
		changed := h
		if h.Phase == PhaseCalled && h.DeadlineUS > since {
			changed.DeadlineUS += e.ShiftUS
		}
		if h.Phase == PhaseProvisional && h.ProtestUntilUS > since {
			// A result that was posted during the pause waited only the rest of it.
			changed.ProtestUntilUS += e.ShiftUS - max(0, h.PostedUS-since)
		}
		s.Heats[id] = changed
	}
}
