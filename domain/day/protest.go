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
	// RuledUS is when it was ruled on, Ruling the number of that ruling.
	RuledUS int64 `json:"-"`
	Ruling  int   `json:"-"`
}
