package day

import "benchmeet/domain/refusal"

// EntryTaken says that an entry was taken.
type EntryTaken struct {
	ID          EntryID    `json:"id"`
	Division    DivisionID `json:"division"`
	StartNumber int        `json:"start_number"`
	Entrant     EntrantID  `json:"entrant"`
	Car         CarID      `json:"car"`
	RacesUp     bool       `json:"races_up,omitempty"`
	Late        bool       `json:"late,omitempty"`
	Team        string     `json:"team,omitempty"`
	// Band is the division that was asked for, where it races in Division.
	Band DivisionID `json:"band,omitempty"`
}

// AgeFits allows racing up a band and refuses racing down.
func (d Division) AgeFits(age, number int) (up bool, err error) {
	if age < 0 {
		return false, nil
	}
	if d.AgeTo != 0 && age > d.AgeTo {
		return false, refusal.New("too-old", "number", number, "division", d.ID, "age", d.AgeTo)
	}
	return age < d.AgeFrom, nil
}

// Type is the name in the log.
func (EntryTaken) Type() string { return "EntryTaken" }

func (e EntryTaken) apply(s *State) {
	s.Entries[e.ID] = Entry{
		ID: e.ID, Division: e.Division, Band: e.Band, StartNumber: e.StartNumber, Entrant: e.Entrant, Car: e.Car,
		RacesUp: e.RacesUp, Late: e.Late, Team: e.Team,
	}
	s.Numbers[e.StartNumber] = e.ID
}
