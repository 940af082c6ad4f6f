package day

// HeatCalled says which car is to come to which bench, and by when.
type HeatCalled struct {
	Heat       HeatID       `json:"heat"`
	Lanes      []CalledLane `json:"lanes"`
	DeadlineUS int64        `json:"deadline_us"`
	By         string       `json:"by"`
}

// CalledLane is one car's call; Run is the id under which the bench will send.
type CalledLane struct {
	Entry EntryID `json:"entry"`
	Bench BenchID `json:"bench"`
	Run   RunID   `json:"run"`
}

// Number is the start number of an entry, 0 where there is no such entry.
func (s *State) Number(entry EntryID) int { return s.Entries[entry].StartNumber }

// Type is the name in the log.
func (HeatCalled) Type() string { return "HeatCalled" }

func (e HeatCalled) apply(s *State) {
	h := s.Heats[e.Heat].withLanes(func(_ int, l Lane) Lane { return l })
	h.Phase, h.CalledUS, h.DeadlineUS = PhaseCalled, s.TimeUS, e.DeadlineUS
	h.BoundUS = max(s.HeatPromise(h).NotBeforeUS, s.Held[h.ID], s.resumedUS)
	for _, called := range e.Lanes {
		h.BoundUS = max(h.BoundUS, s.Benches[called.Bench].BackUS)
		if i, in := h.Lane(called.Entry); in {
			l := h.Lanes[i]
			l.Bench, l.Armed, l.State, l.Pack = called.Bench, called.Run, LaneCalled, ""
			l.Attempt++
			h.Lanes[i] = l
		}
	}
	s.Heats[e.Heat] = h
	callHeld(s, e.Heat)
}
