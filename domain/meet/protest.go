package meet

import (
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
	return []day.Event{day.ProtestLodged{
		ID: c.ID, Heat: c.Heat, Entry: c.Entry, By: m.Actor, Reason: c.Reason, ClaimedUS: claimed(c.ClaimedUS),
	}}, nil
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
