package day

// StatusOut is the lane status of an entry that no longer takes part.
func (e Entry) StatusOut() LaneStatus {
	switch {
	case e.Disqualified: // also of an entry that had withdrawn before
		return StatusDisqualified
	case e.Withdrawn:
		return StatusWithdrawn
	}
	return StatusNone
}

// Entry is a person with a car in a division, with a start number.
type Entry struct {
	ID          EntryID    `json:"id"`
	Division    DivisionID `json:"division"`
	StartNumber int        `json:"start_number"` // on the car
	Entrant     EntrantID  `json:"entrant"`
	// Car is shared by siblings who race one car; entries of one car never
	// stand in one heat.
	Car CarID `json:"car"`
	// Band is the division that the entry was entered for, where that races in
	// another, which is then Division.
	Band DivisionID `json:"band,omitempty"`
	// Team is the club that the entry comes for, as it is shown; empty for none.
	Team string `json:"team,omitempty"`
	// RacesUp says that the entrant is younger than the division's band.
	RacesUp bool `json:"races_up,omitempty"`
	// Late says that the entry came after the division's first draw.
	Late         bool `json:"late,omitempty"`
	CheckedIn    bool `json:"checked_in,omitempty"`
	Withdrawn    bool `json:"withdrawn,omitempty"`
	Disqualified bool `json:"disqualified,omitempty"`
	// Reruns counts the re-runs that were granted.
	Reruns int `json:"reruns,omitempty"`
}

// Racing says whether the entry still takes part.
func (e Entry) Racing() bool { return !e.Withdrawn && !e.Disqualified }
