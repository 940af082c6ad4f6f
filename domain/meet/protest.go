package meet

import (
	"slices"

	"benchmeet/domain/day"
	"benchmeet/domain/refusal"
)

// LodgeProtest records an objection within the protest time.
type LodgeProtest struct {
	ID        day.ProtestID
	Heat      day.HeatID
	Entry     day.EntryID
	Reason    day.Reason
	ClaimedUS int64
	// At are the benches of a volunteer who lodges it: then it is about a car of the
	// heat that raced last at one of them, and a heat has no more of theirs than lanes.
	// Empty is an official's, about any heat.
	At []day.BenchID
}

func (c LodgeProtest) decide(s *day.State, m Meta) ([]day.Event, error) {
	if err := day.CheckID("protest", string(c.ID)); err != nil {
		return nil, err
	}
	h, err := s.Heat(c.Heat)
	if err != nil {
		return nil, err
	}
	if err := c.Reason.Check(); err != nil {
		return nil, err
	}
	if c.Entry != "" {
		if _, err := s.Entry(c.Entry); err != nil {
			return nil, err
		}
	}
	if _, there := s.Protests[c.ID]; there {
		return nil, refusal.New("protest-there", "protest", c.ID)
	}
	switch {
	case h.Phase == day.PhaseOfficial:
		return nil, refusal.New("protest-official", "heat", c.Heat)
	case h.Phase != day.PhaseProvisional:
		return nil, refusal.New("protest-early", "heat", c.Heat)
	case s.RaceClock(m.NowUS) > h.ProtestUntilUS:
		return nil, refusal.New("protest-late", "heat", c.Heat)
	}
	if err := c.bounded(s, h, m.Actor); err != nil {
		return nil, err
	}
	return []day.Event{day.ProtestLodged{
		ID: c.ID, Heat: c.Heat, Entry: c.Entry, By: m.Actor, Reason: c.Reason, ClaimedUS: claimed(c.ClaimedUS),
	}}, nil
}

// bounded refuses what a volunteer may not lodge: a protest holds up the round until
// somebody rules on it.
func (c LodgeProtest) bounded(s *day.State, h day.Heat, actor string) error {
	if len(c.At) == 0 {
		return nil
	}
	last, lastUS := day.HeatID(""), int64(0)
	for _, other := range s.Heats { // the newest, and of two of one instant the one of the first name
		if !racesAt(other, c.At) || other.StartedUS < lastUS || other.StartedUS == lastUS && last != "" && other.ID > last {
			continue
		}
		last, lastUS = other.ID, other.StartedUS
	}
	if last != h.ID {
		return refusal.New("protest-not-yours", "heat", h.ID)
	}
	if _, in := h.Lane(c.Entry); c.Entry != "" && !in {
		return refusal.New("protest-not-yours", "heat", h.ID)
	}
	lodged := 0
	for _, p := range s.Protests {
		if p.Heat == h.ID && p.LodgedBy == actor {
			lodged++
		}
	}
	if lodged >= len(h.Lanes) {
		return refusal.New("protest-enough", "heat", h.ID)
	}
	return nil
}

// racesAt says whether a heat has a lane at one of the benches.
func racesAt(h day.Heat, benches []day.BenchID) bool {
	return slices.ContainsFunc(h.Lanes, func(l day.Lane) bool { return slices.Contains(benches, l.Bench) })
}

// RuleProtest decides a protest. An official who lodged it in their own name may
// not rule on it; one who only wrote it down for an entry may. What follows from
// an upheld protest is a ruling of its own.
type RuleProtest struct {
	ID     day.ProtestID
	Upheld bool
	Reason day.Reason
}

func (c RuleProtest) decide(s *day.State, m Meta) ([]day.Event, error) {
	p, there := s.Protests[c.ID]
	switch {
	case !there:
		return nil, refusal.New("no-protest", "protest", c.ID)
	case p.Ruled:
		return nil, refusal.New("protest-ruled", "protest", c.ID)
	case p.Entry == "" && p.LodgedBy == m.Actor:
		return nil, refusal.New("protest-concerned", "protest", c.ID)
	}
	ruled, err := ruledBy(s, m, c.Reason)
	if err != nil {
		return nil, err
	}
	return []day.Event{day.ProtestRuled{Ruled: ruled, ID: c.ID, Upheld: c.Upheld}}, nil
}
