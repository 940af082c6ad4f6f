package meet

import (
	"benchmeet/domain/day"
	"benchmeet/domain/programme"
	"benchmeet/domain/refusal"
)

// ChangeEntry puts a mistake right before the division is drawn: number, car,
// division or club.
type ChangeEntry struct {
	ID          day.EntryID
	Division    day.DivisionID
	StartNumber int
	Car         day.CarID
	Age         int // as in TakeEntry
	// Team is the club from now on, empty for none; nil leaves it as it is.
	Team *string
	// Edition is what the save rests on, see [day.CheckEdition].
	Edition string
}

func (c ChangeEntry) decide(s *day.State, _ Meta) ([]day.Event, error) {
	e, err := s.Entry(c.ID)
	if err != nil {
		return nil, err
	}
	d, err := s.Division(c.Division)
	if err != nil {
		return nil, err
	}
	if err := day.CheckID("car", string(c.Car)); err != nil {
		return nil, err
	}
	team := e.Team
	if c.Team != nil {
		team = *c.Team
	}
	if err := programme.CheckTeam(team); err != nil {
		return nil, err
	}
	same := e.Home() == c.Division
	said := day.Entry{Division: c.Division, StartNumber: c.StartNumber, Car: c.Car, Team: team}
	if said.Edition() != e.Edition() {
		if err := day.CheckEdition(c.Edition, e.Edition()); err != nil {
			return nil, err
		}
	}
	host, band := programme.RacesIn(s, c.Division)
	for _, id := range []day.DivisionID{e.Division, host} {
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
	changed := day.EntryChanged{
		ID: c.ID, Division: host, Band: band, StartNumber: c.StartNumber, Car: c.Car, RacesUp: up, Team: team,
	}
	if s.Inspections[c.ID].Passed && (e.Car != c.Car || e.Division != host) {
		changed.Lapses = day.ReasonCarChanged
	}
	return []day.Event{changed}, nil
}
