package day

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
