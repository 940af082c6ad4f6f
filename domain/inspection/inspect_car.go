package inspection

import (
	"slices"

	"benchmeet/domain/day"
	"benchmeet/domain/refusal"
)

const (
	MostFixUS = 12 * 3600 * 1_000_000
	MostMark  = 40
)

// Inspected are the events of a visit: for the entry, and for those that share its
// car.
func Inspected(s *day.State, e day.Entry, try day.InspectionTry, by string) []day.Event {
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
			events = append(events, day.InspectionLapsed{Entry: other.ID, Reason: day.ReasonCarNotLegal, By: by})
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

// MissingItem finds an item of a class's list for which no value was given.
func MissingItem(list []day.CheckItem, values []day.ItemValue) (day.CheckItem, bool) {
	for _, item := range list {
		if !slices.ContainsFunc(values, func(v day.ItemValue) bool { return v.Item == item.ID }) {
			return item, true
		}
	}
	return day.CheckItem{}, false
}
