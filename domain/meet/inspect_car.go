package meet

import (
	"slices"

	"benchmeet/domain/refusal"
)

// InspectCar takes what an inspector found of an entry's car. It passes where
// every item of the class's checklist was found right and nothing else is wrong.
// It holds for all entries of the car in the division; a car that does not pass
// loses the pass that it has in others.
type InspectCar struct {
	Entry  EntryID
	Values []ItemValue
	// Wrong says that something beside the checklist has to be put right.
	Wrong bool
	// FixUS is how long there is to put it right, in µs, up to 12 hours; 0 is no
	// deadline.
	FixUS int64
	// Mark is the mark that is put on a car that passes, at most 40 characters.
	Mark string
}

// CarInspected says what an inspector found, and whether the car passed.
type CarInspected struct {
	Entry EntryID `json:"entry"`
	Car   CarID   `json:"car"`
	// Try counts the visits of this entry, from 1.
	Try    int  `json:"try"`
	Passed bool `json:"passed"`
	InspectionTry
}

const (
	MostFixUS = 12 * 3600 * 1_000_000
	MostMark  = 40
)

func (c InspectCar) decide(s *State, m Meta) ([]Event, error) {
	e, err := s.Entry(c.Entry)
	if err != nil {
		return nil, err
	}
	switch {
	case !e.Racing():
		return nil, refusal.New("entry-out", "number", e.StartNumber)
	case c.FixUS < 0 || c.FixUS > MostFixUS:
		return nil, refusal.New("inspect-fix", "most", MostFixUS/3_600_000_000)
	case len(c.Mark) > MostMark:
		return nil, refusal.New("inspect-mark", "most", MostMark)
	}
	failed, err := JudgeItems(s.Divisions[e.Division].Class.Checklist, c.Values)
	if err != nil {
		return nil, err
	}
	if c.Wrong {
		failed = append(failed, refusal.New("inspect-wrong"))
	}
	if missing, is := MissingItem(s.Divisions[e.Division].Class.Checklist, c.Values); is && len(failed) == 0 {
		return nil, refusal.New("item-missing", "item", missing.Name)
	}
	try := InspectionTry{AtUS: m.NowUS, Values: c.Values, Failed: Grounds(failed), By: m.Actor}
	switch {
	case len(failed) == 0:
		try.Mark = c.Mark
	case c.FixUS > 0:
		try.FixUntilUS = m.NowUS + c.FixUS
	}
	return Inspected(s, e, try, m), nil
}

// Inspected are the events of a visit: for the entry, and for those that share its
// car.
func Inspected(s *State, e Entry, try InspectionTry, m Meta) []Event {
	passed := len(try.Failed) == 0
	visit := func(entry EntryID) Event {
		return CarInspected{Entry: entry, Car: e.Car, Try: len(s.Inspections[entry].Tries) + 1, Passed: passed, InspectionTry: try}
	}
	events := []Event{visit(e.ID)}
	for _, other := range Sharing(s, e) {
		switch {
		case other.Division == e.Division && other.Racing():
			events = append(events, visit(other.ID))
		case !passed && s.Inspections[other.ID].Passed:
			events = append(events, InspectionLapsed{other.ID, ReasonCarNotLegal, m.Actor})
		}
	}
	return events
}

// Sharing are the other entries with an entry's car, by start number.
func Sharing(s *State, e Entry) []Entry {
	return slices.DeleteFunc(s.SortedEntries(""), func(other Entry) bool { return other.ID == e.ID || other.Car != e.Car })
}

// JudgeItems says what is wrong, in the order of the checklist, and refuses values
// that belong to no item.
func JudgeItems(list []CheckItem, values []ItemValue) ([]*refusal.Refusal, error) {
	found := map[string]ItemValue{}
	for _, v := range values {
		at := slices.IndexFunc(list, func(item CheckItem) bool { return item.ID == v.Item })
		_, twice := found[v.Item]
		if at < 0 || twice || len(v.Instrument) > MostInstrument ||
			(list[at].Unit == UnitNone) != (v.Yes != nil) || (list[at].Unit == UnitNone) == (v.Value != nil) ||
			v.Value != nil && (*v.Value < 0 || *v.Value > MostItemValue) {
			return nil, refusal.New("item-value", "item", v.Item[:min(len(v.Item), MaxID)])
		}
		found[v.Item] = v
	}
	var failed []*refusal.Refusal
	for _, item := range list {
		if v, there := found[item.ID]; there {
			if no := judgeItem(item, v); no != nil {
				failed = append(failed, no)
			}
		}
	}
	return failed, nil
}

func MissingItem(list []CheckItem, values []ItemValue) (CheckItem, bool) {
	for _, item := range list {
		if !slices.ContainsFunc(values, func(v ItemValue) bool { return v.Item == item.ID }) {
			return item, true
		}
	}
	return CheckItem{}, false
}

// Type is the name in the log.
func (CarInspected) Type() string { return "CarInspected" }

func (e CarInspected) apply(s *State) {
	i := s.Inspections[e.Entry]
	i.Tries = append(i.Tries[:len(i.Tries):len(i.Tries)], e.InspectionTry)
	i.Passed, i.Lapsed = e.Passed, ""
	s.Inspections[e.Entry] = i
}

// LapseInspection says that a car which passed was changed since, or is in doubt:
// it has to be inspected again before it races, for whoever enters it.
type LapseInspection struct {
	Entry  EntryID
	Reason Reason
}

// InspectionLapsed says that a pass counts no more.
type InspectionLapsed struct {
	Entry  EntryID    `json:"entry"`
	Reason ReasonCode `json:"reason"`
	By     string     `json:"by"`
}

func (c LapseInspection) decide(s *State, m Meta) ([]Event, error) {
	e, err := s.Entry(c.Entry)
	if err != nil {
		return nil, err
	}
	if err := c.Reason.Check(); err != nil {
		return nil, err
	}
	if !s.Inspections[c.Entry].Passed {
		return nil, refusal.New("inspect-no-pass", "number", s.Number(c.Entry))
	}
	events := []Event{InspectionLapsed{c.Entry, c.Reason.Code, m.Actor}}
	for _, other := range Sharing(s, e) {
		if s.Inspections[other.ID].Passed {
			events = append(events, InspectionLapsed{other.ID, c.Reason.Code, m.Actor})
		}
	}
	return events, nil
}

// Type is the name in the log.
func (InspectionLapsed) Type() string { return "InspectionLapsed" }

func (e InspectionLapsed) apply(s *State) { s.lapse(e.Entry, e.Reason) }

// lapse takes the pass of an entry's car back; one that has none stays as it is.
func (s *State) lapse(entry EntryID, why ReasonCode) {
	if i := s.Inspections[entry]; i.Passed {
		i.Passed, i.Lapsed = false, why
		s.Inspections[entry] = i
	}
}
