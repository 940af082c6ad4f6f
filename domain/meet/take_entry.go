package meet

import "benchmeet/domain/refusal"

// TakeEntry enters a person with a car in a division. Age is the entrant's at
// the meet's age date, or -1 where it is not known; the log keeps only the band.
// Team is the club that the entry comes for, empty for none.
type TakeEntry struct {
	ID          EntryID
	Division    DivisionID
	StartNumber int
	Entrant     EntrantID
	Car         CarID
	Age         int
	Team        string
}

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

func (c TakeEntry) decide(s *State, _ Meta) ([]Event, error) {
	d, err := s.Division(c.Division)
	if err != nil {
		return nil, err
	}
	for _, id := range []struct{ what, id string }{
		{"entry", string(c.ID)},
		{"entrant", string(c.Entrant)},
		{"car", string(c.Car)},
	} {
		if err := CheckID(id.what, id.id); err != nil {
			return nil, err
		}
	}
	if _, there := s.Entries[c.ID]; there {
		return nil, refusal.New("entry-there", "entry", c.ID)
	}
	if err := freeNumber(s, c.StartNumber, c.ID); err != nil {
		return nil, err
	}
	for _, other := range s.SortedEntries(Host(s, c.Division)) {
		if other.Entrant == c.Entrant && other.Racing() {
			return nil, refusal.New("entrant-there", "number", other.StartNumber, "division", c.Division)
		}
	}
	if err := CheckTeam(c.Team); err != nil {
		return nil, err
	}
	host, band := RacesIn(s, d.ID)
	late, err := mayEnter(s, s.Divisions[host])
	if err != nil {
		return nil, err
	}
	up, err := d.AgeFits(c.Age, c.StartNumber)
	if err != nil {
		return nil, err
	}
	return []Event{EntryTaken{
		ID: c.ID, Division: host, Band: band, StartNumber: c.StartNumber, Entrant: c.Entrant, Car: c.Car,
		RacesUp: up, Late: late, Team: c.Team,
	}}, nil
}

// MaxStartNumber is what fits on a car.
const MaxStartNumber = 9999

// freeNumber refuses a start number that another entry has.
func freeNumber(s *State, number int, for_ EntryID) error {
	if number < 1 || number > MaxStartNumber {
		return refusal.New("start-number", "number", number, "most", MaxStartNumber)
	}
	if other, taken := s.Numbers[number]; taken && other != for_ {
		return refusal.New("start-number-taken", "number", number, "entry", other)
	}
	return nil
}

// mayEnter says whether a division still takes entries, and whether one is late.
func mayEnter(s *State, d Division) (late bool, err error) {
	p := s.Programmes[d.ID]
	stage, round := p.Round()
	if stage == 0 {
		if p.EntriesClosed {
			return false, refusal.New("entries-closed", "division", d.ID)
		}
		return false, nil
	}
	if TakesLate(s, d, stage, round) {
		return true, nil
	}
	return false, refusal.New("entry-late", "division", d.ID)
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
