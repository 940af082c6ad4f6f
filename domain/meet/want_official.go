package meet

import "benchmeet/domain/day"

// WantOfficial asks from a bench for an official, whatever the bench is at, or says
// that one has come. It is asked once, however often it is given, until somebody came.
type WantOfficial struct {
	Bench  day.BenchID
	Wanted bool
}

func (c WantOfficial) decide(s *day.State, m Meta) ([]day.Event, error) {
	if _, err := s.Bench(c.Bench); err != nil {
		return nil, err
	}
	if _, waits := s.Wanted[c.Bench]; waits == c.Wanted {
		return nil, nil
	}
	return []day.Event{day.OfficialWanted{Bench: c.Bench, By: m.Actor, Came: !c.Wanted}}, nil
}
