package meet

import (
	"benchmeet/domain/day"
	"benchmeet/domain/programme"
	"benchmeet/domain/refusal"
)

// CloseEntries ends the taking of entries of a division, before the lots are
// drawn, or opens it again while nothing is drawn.
type CloseEntries struct {
	Division day.DivisionID
	Open     bool
	// Sure says that somebody was asked and goes on although the programme makes sure of
	// fewer races than the rules promise.
	Sure bool
}

func (c CloseEntries) decide(s *day.State, m Meta) ([]day.Event, error) {
	if _, err := programme.Hosting(s, c.Division); err != nil {
		return nil, err
	}
	p := s.Programmes[c.Division]
	if p.EntriesClosed == !c.Open {
		return nil, nil
	}
	if !c.Open {
		short := programme.ShortOfPromise(s, c.Division)
		if short != nil && !c.Sure {
			return nil, shortOfPromise(c.Division, *short)
		}
		return []day.Event{day.EntriesClosed{Division: c.Division, By: m.Actor, Short: short}}, nil
	}
	if stage, _ := p.Round(); stage > 0 {
		return nil, refusal.New("division-drawn", "division", c.Division)
	}
	return []day.Event{day.EntriesReopened{Division: c.Division, By: m.Actor}}, nil
}

func shortOfPromise(division day.DivisionID, short day.ShortOfPromise) error {
	return refusal.New("promise-short", "division", division, "sure", short.Sure, "promised", short.Promised)
}
