package day

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

// ProtestLodged says that a protest was recorded.
type ProtestLodged struct {
	ID        ProtestID `json:"id"`
	Heat      HeatID    `json:"heat"`
	Entry     EntryID   `json:"entry,omitempty"`
	By        string    `json:"by"`
	Reason    Reason    `json:"reason"`
	ClaimedUS int64     `json:"claimed_us,omitempty"`
}

// Type is the name in the log.
func (ProtestLodged) Type() string { return "ProtestLodged" }

func (e ProtestLodged) apply(s *State) {
	s.Protests[e.ID] = Protest{
		ID: e.ID, Heat: e.Heat, Entry: e.Entry, LodgedBy: e.By, LodgedUS: s.TimeUS,
		ClaimedUS: e.ClaimedUS, Reason: e.Reason,
	}
}

// ProtestRuled says that a protest was decided.
type ProtestRuled struct {
	Ruled
	ID     ProtestID `json:"id"`
	Upheld bool      `json:"upheld"`
}

// Type is the name in the log.
func (ProtestRuled) Type() string { return "ProtestRuled" }

func (e ProtestRuled) apply(s *State) {
	p := s.Protests[e.ID]
	p.Ruled, p.Upheld = true, e.Upheld
	s.Protests[e.ID] = p
	s.rule(e.Type(), e.Ruled, Ruling{Heat: p.Heat, Entry: p.Entry})
}
