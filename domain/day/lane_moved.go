package day

// LaneMoved says that a called car goes to another bench.
type LaneMoved struct {
	Heat  HeatID  `json:"heat"`
	Entry EntryID `json:"entry"`
	Bench BenchID `json:"bench"`
	Run   RunID   `json:"run"`
	By    string  `json:"by"`
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
