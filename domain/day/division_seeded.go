package day

// DivisionSeeded says in which order a stage is to be drawn.
type DivisionSeeded struct {
	Division DivisionID `json:"division"`
	Stage    int        `json:"stage"`
	Seeding  SeedMethod `json:"seeding"`
	Seeds    []EntryID  `json:"seeds"`
	// LotSeed is the lot that decided where the method leaves it to lot.
	LotSeed uint64 `json:"lot_seed"`
	// Ratings are those that an order by rating went by.
	Ratings []Rated `json:"ratings,omitempty"`
	By      string  `json:"by"`
}

// Type is the name in the log.
func (DivisionSeeded) Type() string { return "DivisionSeeded" }

func (e DivisionSeeded) apply(s *State) {
	p := s.Programmes[e.Division]
	p.Seeding = &SeedList{Stage: e.Stage, Method: e.Seeding, Order: e.Seeds, LotSeed: e.LotSeed, AtUS: s.TimeUS}
	s.Programmes[e.Division] = p
}
