package club

import (
	"slices"

	"benchmeet/domain/day"
	"benchmeet/domain/meet"
	"benchmeet/domain/programme"
	"benchmeet/domain/refusal"
)

// TakeRatings rates a division of a meet whose results were published. It may be
// given again: a publication is rated once, and a later one of the same division
// rates anew from the values before that meet, and so do the periods behind it.
type TakeRatings struct {
	Meet     string
	Division day.DivisionID
	Class    string
	// Number is that of the publication.
	Number int
	Games  []programme.RatedGame
}

// RatingsTaken says what the ratings are after a division of a meet.
type RatingsTaken struct {
	RatingPeriod
	// Follows says that an earlier meet was corrected, and that the games are those
	// that stood here before.
	Follows bool `json:"follows,omitempty"`
}

func (c TakeRatings) decide(s *State, m meet.Meta) ([]Event, error) {
	for _, g := range c.Games {
		if g.A == g.B || g.A == "" || g.B == "" || g.Score < 0 || g.Score > 2 {
			return nil, refusal.New("rating-game", "meet", c.Meet)
		}
	}
	at := s.period(c.Meet, c.Division)
	// This publication or a later one is rated: a second try changes nothing.
	if at < len(s.Periods) && s.Periods[at].Number >= c.Number {
		return nil, nil
	}
	// An empty list and not null, which is what stands in the event.
	games := c.Games
	if games == nil {
		games = []programme.RatedGame{}
	}
	// Tried on a copy, because the state changes by events alone.
	next := s.Clone()
	next.put(at, RatingPeriod{Meet: c.Meet, Division: c.Division, Class: c.Class, Number: c.Number, Games: games})
	var events []Event
	// A correction of an earlier meet changes what later ones of the class begin with, so they are
	// rated again; where nothing comes of it, nothing is said.
	for i := at; i < len(next.Periods); i++ {
		p := next.Periods[i]
		if p.Class != next.Periods[at].Class {
			continue
		}
		after, err := next.rate(i)
		if err != nil {
			return nil, err
		}
		if i > at && slices.Equal(after, p.Ratings) {
			continue
		}
		p.Ratings = after
		next.put(i, p)
		e := RatingsTaken{RatingPeriod: p, Follows: i > at}
		if e.Follows {
			// They stand in the period already; apply takes them from there.
			e.Games = nil
		}
		events = append(events, e)
	}
	return events, nil
}

// period is the place of a division of a meet among the periods; behind all of
// them where it was not rated yet.
func (s *State) period(meetID string, d day.DivisionID) int {
	at := slices.IndexFunc(s.Periods, func(p RatingPeriod) bool { return p.Meet == meetID && p.Division == d })
	if at < 0 {
		return len(s.Periods)
	}
	return at
}

// put sets a period, or adds it behind all.
func (s *State) put(at int, p RatingPeriod) {
	s.Periods = slices.Clone(s.Periods)
	if at == len(s.Periods) {
		s.Periods = append(s.Periods, p)
		return
	}
	s.Periods[at] = p
}

// Rated is the number of the publication of a division that was rated last; 0 is
// none.
func (s *State) Rated(meetID string, d day.DivisionID) int {
	if at := s.period(meetID, d); at < len(s.Periods) {
		return s.Periods[at].Number
	}
	return 0
}

// Type is the name in the log.
func (RatingsTaken) Type() string { return "RatingsTaken" }

func (e RatingsTaken) apply(s *State) {
	at := s.period(e.Meet, e.Division)
	p := e.RatingPeriod
	if e.Follows && at < len(s.Periods) {
		p.Games = s.Periods[at].Games
	}
	s.put(at, p)
}
