package meet

import (
	"benchmeet/domain/day"
	"benchmeet/domain/inspection"
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

func (c InspectCar) decide(s *day.State, m Meta) ([]day.Event, error) {
	e, err := s.Entry(c.Entry)
	if err != nil {
		return nil, err
	}
	switch {
	case !e.Racing():
		return nil, refusal.New("entry-out", "number", e.StartNumber)
	case c.FixUS < 0 || c.FixUS > inspection.MostFixUS:
		return nil, refusal.New("inspect-fix", "most", inspection.MostFixUS/3_600_000_000)
	case len(c.Mark) > inspection.MostMark:
		return nil, refusal.New("inspect-mark", "most", inspection.MostMark)
	}
	failed, err := inspection.JudgeItems(s.Divisions[e.Division].Class.Checklist, c.Values)
	if err != nil {
		return nil, err
	}
	if c.Wrong {
		failed = append(failed, refusal.New("inspect-wrong"))
	}
	if missing, is := inspection.MissingItem(s.Divisions[e.Division].Class.Checklist, c.Values); is && len(failed) == 0 {
		return nil, refusal.New("item-missing", "item", missing.Name)
	}
	try := day.InspectionTry{AtUS: m.NowUS, Values: c.Values, Failed: day.Grounds(failed), By: m.Actor}
	switch {
	case len(failed) == 0:
		try.Mark = c.Mark
	case c.FixUS > 0:
		try.FixUntilUS = m.NowUS + c.FixUS
	}
	return inspection.Inspected(s, e, try, m.Actor), nil
}

// LapseInspection says that a car which passed was changed since, or is in doubt:
// it has to be inspected again before it races, for whoever enters it.
type LapseInspection struct {
	Entry  day.EntryID
	Reason day.Reason
}

func (c LapseInspection) decide(s *day.State, m Meta) ([]day.Event, error) {
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
	for _, other := range inspection.Sharing(s, e) {
		if s.Inspections[other.ID].Passed {
			events = append(events, day.InspectionLapsed{Entry: other.ID, Reason: c.Reason.Code, By: m.Actor})
		}
	}
	return events, nil
}
