package day

// CarInspected says what an inspector found, and whether the car passed.
type CarInspected struct {
	Entry EntryID `json:"entry"`
	Car   CarID   `json:"car"`
	// Try counts the visits of this entry, from 1.
	Try    int  `json:"try"`
	Passed bool `json:"passed"`
	InspectionTry
}

// Type is the name in the log.
func (CarInspected) Type() string { return "CarInspected" }

func (e CarInspected) apply(s *State) {
	i := s.Inspections[e.Entry]
	i.Tries = append(i.Tries[:len(i.Tries):len(i.Tries)], e.InspectionTry)
	i.Passed, i.Lapsed = e.Passed, ""
	s.Inspections[e.Entry] = i
}

// InspectionLapsed says that a pass counts no more.
type InspectionLapsed struct {
	Entry  EntryID    `json:"entry"`
	Reason ReasonCode `json:"reason"`
	By     string     `json:"by"`
}

// Type is the name in the log.
func (InspectionLapsed) Type() string { return "InspectionLapsed" }

func (e InspectionLapsed) apply(s *State) { s.lapse(e.Entry, e.Reason) }

// lapse takes the pass of an entry's car back; one that has none stays as it is.
func (s *State) lapse(entry EntryID, why ReasonCode) {
	if i := s.Inspections[entry]; i.Passed {
		i.Passed, i.Lapsed = false, why
		s.Inspections[entry] = i
	}
}
