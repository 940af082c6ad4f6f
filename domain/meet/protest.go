package meet

import "benchmeet/domain/refusal"

// Protest is an objection to a posted result.
type Protest struct {
	ID        ProtestID `json:"id"`
	Heat      HeatID    `json:"heat"`
	Entry     EntryID   `json:"entry,omitempty"` // for whom it is lodged
	LodgedBy  string    `json:"lodged_by"`
	LodgedUS  int64     `json:"lodged_us"`
	ClaimedUS int64     `json:"claimed_us,omitempty"` // by the clock of who wrote it down
	Reason    Reason    `json:"reason"`
	Ruled     bool      `json:"ruled,omitempty"`
	Upheld    bool      `json:"upheld,omitempty"`
}

// LodgeProtest records an objection within the protest time.
type LodgeProtest struct {
	ID        ProtestID
	Heat      HeatID
	Entry     EntryID
	Reason    Reason
	ClaimedUS int64
}

// ProtestLodged says that a protest was recorded.
type ProtestLodged struct {
	ID        ProtestID `json:"id"`
	Heat      HeatID    `json:"heat"`
	Entry     EntryID   `json:"entry,omitempty"`
	By        string    `json:"by"`
	Reason    Reason    `json:"reason"`
	ClaimedUS int64     `json:"claimed_us,omitempty"`
}

func (c LodgeProtest) decide(s *State, m Meta) ([]Event, error) {
	if err := CheckID("protest", string(c.ID)); err != nil {
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
	case h.Phase == PhaseOfficial:
		return nil, refusal.New("protest-official", "heat", c.Heat)
	case h.Phase != PhaseProvisional:
		return nil, refusal.New("protest-early", "heat", c.Heat)
	case s.RaceClock(m.NowUS) > h.ProtestUntilUS:
		return nil, refusal.New("protest-late", "heat", c.Heat)
	}
	return []Event{ProtestLodged{
		ID: c.ID, Heat: c.Heat, Entry: c.Entry, By: m.Actor, Reason: c.Reason, ClaimedUS: claimed(c.ClaimedUS),
	}}, nil
}

// Type is the name in the log.
func (ProtestLodged) Type() string { return "ProtestLodged" }

func (e ProtestLodged) apply(s *State) {
	s.Protests[e.ID] = Protest{
		ID: e.ID, Heat: e.Heat, Entry: e.Entry, LodgedBy: e.By, LodgedUS: s.TimeUS,
		ClaimedUS: e.ClaimedUS, Reason: e.Reason,
	}
}

// RuleProtest decides a protest. An official who lodged it in their own name may
// not rule on it; one who only wrote it down for an entry may. What follows from
// an upheld protest is a ruling of its own.
type RuleProtest struct {
	ID     ProtestID
	Upheld bool
	Reason Reason
}

// ProtestRuled says that a protest was decided.
type ProtestRuled struct {
	Ruled
	ID     ProtestID `json:"id"`
	Upheld bool      `json:"upheld"`
}

func (c RuleProtest) decide(s *State, m Meta) ([]Event, error) {
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
	return []Event{ProtestRuled{Ruled: ruled, ID: c.ID, Upheld: c.Upheld}}, nil
}

// Type is the name in the log.
func (ProtestRuled) Type() string { return "ProtestRuled" }

func (e ProtestRuled) apply(s *State) {
	p := s.Protests[e.ID]
	p.Ruled, p.Upheld = true, e.Upheld
	s.Protests[e.ID] = p
	s.rule(e.Type(), e.Ruled, Ruling{Heat: p.Heat, Entry: p.Entry})
}

// OpenProtest finds an undecided protest against one of the heats.
func OpenProtest(s *State, heats []HeatID) (ProtestID, bool) {
	found, first := false, ProtestID("")
	for id, p := range s.Protests {
		if !p.Ruled && OneOf(p.Heat, heats...) && (!found || id < first) {
			found, first = true, id
		}
	}
	return first, found
}
