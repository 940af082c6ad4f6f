package meet

import "benchmeet/domain/refusal"

// ChangeEntry puts a mistake right before the division is drawn: number, car,
// division or club.
type ChangeEntry struct {
	ID          EntryID
	Division    DivisionID
	StartNumber int
	Car         CarID
	Age         int // as in TakeEntry
	// Team is the club from now on, empty for none; nil leaves it as it is.
	Team *string
}

// EntryChanged says how an entry stands now.
type EntryChanged struct {
	ID          EntryID    `json:"id"`
	Division    DivisionID `json:"division"`
	StartNumber int        `json:"start_number"`
	Car         CarID      `json:"car"`
	RacesUp     bool       `json:"races_up,omitempty"`
	Team        string     `json:"team,omitempty"`
	// Band is the division that was asked for, where it races in Division.
	Band DivisionID `json:"band,omitempty"`
}

func (c ChangeEntry) decide(s *State, _ Meta) ([]Event, error) {
	e, err := s.Entry(c.ID)
	if err != nil {
		return nil, err
	}
	d, err := s.Division(c.Division)
	if err != nil {
		return nil, err
	}
	if err := CheckID("car", string(c.Car)); err != nil {
		return nil, err
	}
	team := e.Team
	if c.Team != nil {
		team = *c.Team
	}
	if err := CheckTeam(team); err != nil {
		return nil, err
	}
	same := e.Home() == c.Division
	host, band := RacesIn(s, c.Division)
	for _, id := range []DivisionID{e.Division, host} {
		if stage, _ := s.Programmes[id].Round(); stage > 0 {
			return nil, refusal.New("division-drawn", "division", id)
		}
	}
	if !same && s.Programmes[host].EntriesClosed {
		return nil, refusal.New("entries-closed", "division", c.Division)
	}
	if err := freeNumber(s, c.StartNumber, c.ID); err != nil {
		return nil, err
	}
	up, err := d.AgeFits(c.Age, c.StartNumber)
	if err != nil {
		return nil, err
	}
	if c.Age < 0 && same {
		up = e.RacesUp // nothing new is known
	}
	if same && e.StartNumber == c.StartNumber && e.Car == c.Car && e.RacesUp == up && e.Team == team {
		return nil, nil
	}
	return []Event{EntryChanged{
		ID: c.ID, Division: host, Band: band, StartNumber: c.StartNumber, Car: c.Car, RacesUp: up, Team: team,
	}}, nil
}

// Type is the name in the log.
func (EntryChanged) Type() string { return "EntryChanged" }

func (e EntryChanged) apply(s *State) {
	old := s.Entries[e.ID]
	if old.Car != e.Car || old.Division != e.Division {
		s.lapse(e.ID, ReasonCarChanged)
	}
	delete(s.Numbers, old.StartNumber)
	old.Division, old.StartNumber, old.Car, old.RacesUp = e.Division, e.StartNumber, e.Car, e.RacesUp
	old.Team, old.Band = e.Team, e.Band
	s.Entries[e.ID] = old
	s.Numbers[e.StartNumber] = e.ID
}
