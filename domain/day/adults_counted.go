package day

import "slices"

// AdultsCounted says how many adults run the benches from now on.
type AdultsCounted struct {
	By     string `json:"by"`
	Adults int    `json:"adults"` // 1 to [MostAdults]
}

// AdultsSince is how many adults ran the benches from an instant on.
type AdultsSince struct {
	AtUS   int64 `json:"at_us"`
	Adults int   `json:"adults"`
}

// AdultsNow is how many adults run the benches: as they were counted last, or else as the
// plan says; 0 where nobody said.
func (s *State) AdultsNow() int {
	if n := len(s.Adults); n > 0 {
		return s.Adults[n-1].Adults
	}
	return s.Plan.Adults
}

// Type is the name in the log.
func (AdultsCounted) Type() string { return "AdultsCounted" }

func (e AdultsCounted) apply(s *State) {
	s.Adults = append(slices.Clip(s.Adults), AdultsSince{s.TimeUS, e.Adults})
}
