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
	// DeadlinesUS and ProtestsUS are the deadlines of calls and the ends of protest
	// times that have shifted.
	DeadlinesUS map[HeatID]int64 `json:"deadlines_us,omitempty"`
	ProtestsUS  map[HeatID]int64 `json:"protests_us,omitempty"`
	// ToldUS is by how much the told times that are still to come are later.
	ToldUS int64 `json:"told_us,omitempty"`
	// BatteriesSinceUS is since when battery checks are asked for anew; 0 where they
	// are not.
	BatteriesSinceUS int64 `json:"batteries_since_us,omitempty"`
	Aged
}

// Type is the name in the log.
func (MeetResumed) Type() string { return "MeetResumed" }

func (e MeetResumed) apply(s *State) {
	if s.Told != nil && e.ToldUS != 0 {
		s.Told = s.Told.shifted(e.ToldUS, s.PausedUS)
	}
	s.Paused, s.PausedUS, s.PausedBecause, s.resumedUS = false, 0, "", s.TimeUS
	if e.BatteriesSinceUS != 0 {
		s.BatteriesSinceUS = e.BatteriesSinceUS
	}
	for id, until := range e.DeadlinesUS {
		if h, there := s.Heats[id]; there {
			h.DeadlineUS = until
			s.Heats[id] = h
		}
	}
	for id, until := range e.ProtestsUS {
		if h, there := s.Heats[id]; there {
			h.ProtestUntilUS = until
			s.Heats[id] = h
		}
	}
}
