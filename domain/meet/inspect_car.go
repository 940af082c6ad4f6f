package meet

import (
	"slices"

	"benchmeet/domain/day"
	"benchmeet/domain/refusal"
)

// InspectCar takes what an inspector found of an entry's car. It passes where
// every item of the class's checklist was found right and nothing else is wrong.
// It holds for all entries of the car in the division; a car that does not pass
// loses the pass that it has in others.
type InspectCar struct {
	Entry  day.EntryID
	Values []day.ItemValue
	// Wrong says that something beside the checklist has to be put right.
	Wrong bool
	// FixUS is how long there is to put it right, in µs, up to 12 hours; 0 is no
	// deadline.
	FixUS int64
	// Mark is the mark that is put on a car that passes, at most 40 characters.
	Mark string
}

const (
	MostFixUS = 12 * 3600 * 1_000_000
	MostMark  = 40
)

func (c InspectCar) decide(s *day.State, m day.Meta) ([]day.Event, error) {
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
	try := day.InspectionTry{AtUS: m.NowUS, Values: c.Values, Failed: day.Grounds(failed), By: m.Actor}
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
func Inspected(s *day.State, e day.Entry, try day.InspectionTry, m day.Meta) []day.Event {
	passed := len(try.Failed) == 0
	visit := func(entry day.EntryID) day.Event {
		return day.CarInspected{Entry: entry, Car: e.Car, Try: len(s.Inspections[entry].Tries) + 1, Passed: passed, InspectionTry: try}
	}
	events := []day.Event{visit(e.ID)}
	for _, other := range Sharing(s, e) {
		switch {
		case other.Division == e.Division && other.Racing():
			events = append(events, visit(other.ID))
		case !passed && s.Inspections[other.ID].Passed:
			events = append(events, day.InspectionLapsed{Entry: other.ID, Reason: day.ReasonCarNotLegal, By: m.Actor})
		}
	}
	return events
}

// Sharing are the other entries with an entry's car, by start number.
func Sharing(s *day.State, e day.Entry) []day.Entry {
	return slices.DeleteFunc(s.SortedEntries(""), func(other day.Entry) bool { return other.ID == e.ID || other.Car != e.Car })
}

// JudgeItems says what is wrong, in the order of the checklist, and refuses values
// that belong to no item.
func JudgeItems(list []day.CheckItem, values []day.ItemValue) ([]*refusal.Refusal, error) {
	found := map[string]day.ItemValue{}
	for _, v := range values {
		at := slices.IndexFunc(list, func(item day.CheckItem) bool { return item.ID == v.Item })
		_, twice := found[v.Item]
		if at < 0 || twice || len(v.Instrument) > day.MostInstrument ||
			(list[at].Unit == day.UnitNone) != (v.Yes != nil) || (list[at].Unit == day.UnitNone) == (v.Value != nil) ||
			v.Value != nil && (*v.Value < 0 || *v.Value > day.MostItemValue) {
			return nil, refusal.New("item-value", "item", v.Item[:min(len(v.Item), day.MaxID)])
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

func MissingItem(list []day.CheckItem, values []day.ItemValue) (day.CheckItem, bool) {
	for _, item := range list {
		if !slices.ContainsFunc(values, func(v day.ItemValue) bool { return v.Item == item.ID }) {
			return item, true
		}
	}
	return day.CheckItem{}, false
}

// LapseInspection says that a car which passed was changed since, or is in doubt:
// it has to be inspected again before it races, for whoever enters it.
type LapseInspection struct {
	Entry  day.EntryID
	Reason day.Reason
}

func (c LapseInspection) decide(s *day.State, m day.Meta) ([]day.Event, error) {
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
	events := []day.Event{day.InspectionLapsed{Entry: c.Entry, Reason: c.Reason.Code, By: m.Actor}}
	for _, other := range Sharing(s, e) {
		if s.Inspections[other.ID].Passed {
			events = append(events, day.InspectionLapsed{Entry: other.ID, Reason: c.Reason.Code, By: m.Actor})
		}
	}
	return events, nil
}
