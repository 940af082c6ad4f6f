package day

// inspection is how the car of an entry stands at the inspection table.
type inspection struct {
	// Tries are all visits, oldest first.
	Tries []InspectionTry `json:"tries"`
	// Passed says that the car may race as it is.
	Passed bool `json:"passed,omitempty"`
	// Lapsed says why a pass counts no more.
	Lapsed ReasonCode `json:"lapsed,omitempty"`
}

// InspectionTry is one visit to the inspection table.
type InspectionTry struct {
	AtUS   int64       `json:"at_us"`
	Values []ItemValue `json:"values,omitempty"`
	// Failed says what has to be put right; empty is passed.
	Failed []Ground `json:"failed,omitempty"`
	// FixUntilUS is until when it has to be put right; 0 is no deadline.
	FixUntilUS int64 `json:"fix_until_us,omitempty"`
	// Mark is the mark that was put on a car that passed.
	Mark string `json:"mark,omitempty"`
	By   string `json:"by"`
}

// ItemValue is what was found of one item: a value in the item's unit, or whether
// it is so.
type ItemValue struct {
	Item       string `json:"item"`
	Value      *int64 `json:"value,omitempty"`
	Yes        *bool  `json:"yes,omitempty"`
	Instrument string `json:"instrument,omitempty"`
}

// Last is the last visit; false where there was none.
func (i inspection) Last() (InspectionTry, bool) {
	if len(i.Tries) == 0 {
		return InspectionTry{}, false
	}
	return i.Tries[len(i.Tries)-1], true
}
