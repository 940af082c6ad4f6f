package day

// OfficialWanted says that a bench asks for an official, or that one has come.
type OfficialWanted struct {
	Bench BenchID `json:"bench"`
	By    string  `json:"by"`
	// Came ends the asking.
	Came bool `json:"came,omitempty"`
}

// Type is the name in the log.
func (OfficialWanted) Type() string { return "OfficialWanted" }

func (e OfficialWanted) apply(s *State) {
	if e.Came {
		delete(s.Wanted, e.Bench)
		return
	}
	put(&s.Wanted, e.Bench, Ask{By: e.By, AtUS: s.TimeUS})
}
