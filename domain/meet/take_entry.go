package meet

import (
	"benchmeet/domain/day"
	"benchmeet/domain/programme"
	"benchmeet/domain/refusal"
)

// TakeEntry enters a person with a car in a division. Age is the entrant's at
// the meet's age date, or -1 where it is not known; the log keeps only the band.
// Team is the club that the entry comes for, empty for none.
type TakeEntry struct {
	ID          day.EntryID
	Division    day.DivisionID
	StartNumber int
	Entrant     day.EntrantID
	Car         day.CarID
	Age         int
	Team        string
}

func (c TakeEntry) decide(s *day.State, _ Meta) ([]day.Event, error) {
	d, err := s.Division(c.Division)
	if err != nil {
		return nil, err
	}
	for _, id := range []struct{ what, id string }{
		{"entry", string(c.ID)},
		{"entrant", string(c.Entrant)},
		{"car", string(c.Car)},
	} {
		if err := day.CheckID(id.what, id.id); err != nil {
			return nil, err
		}
	}
	if _, there := s.Entries[c.ID]; there || s.Away.Has(c.ID) {
		return nil, refusal.New("entry-there", "entry", c.ID)
	}
	if err := freeNumber(s, c.StartNumber, c.ID); err != nil {
		return nil, err
	}
	if err := newHere(s, c.Entrant, c.Division); err != nil {
		return nil, err
	}
	if err := programme.CheckTeam(c.Team); err != nil {
		return nil, err
	}
	host, band := programme.RacesIn(s, d.ID)
	late, err := mayEnter(s, s.Divisions[host])
	if err != nil {
		return nil, err
	}
	up, err := d.AgeFits(c.Age, c.StartNumber)
	if err != nil {
		return nil, err
	}
	return []day.Event{day.EntryTaken{
		ID: c.ID, Division: host, Band: band, StartNumber: c.StartNumber, Entrant: c.Entrant, Car: c.Car,
		RacesUp: up, Late: late, Team: c.Team,
	}}, nil
}

// freeNumber refuses a start number that another entry has.
func freeNumber(s *day.State, number int, for_ day.EntryID) error {
	if number < 1 || number > day.MaxStartNumber {
		return refusal.New("start-number", "number", number, "most", day.MaxStartNumber)
	}
	if other, taken := s.Numbers[number]; taken && other != for_ {
		return refusal.New("start-number-taken", "number", number, "division", s.Entries[other].Division)
	}
	return nil
}

// mayEnter says whether a division still takes entries, and whether one is late.
func mayEnter(s *day.State, d day.Division) (late bool, err error) {
	p := s.Programmes[d.ID]
	stage, round := p.Round()
	if stage == 0 {
		if p.EntriesClosed {
			return false, refusal.New("entries-closed", "division", d.ID)
		}
		return false, nil
	}
	if programme.TakesLate(s, d, stage, round) {
		return true, nil
	}
	return false, refusal.New("entry-late", "division", d.ID)
}
