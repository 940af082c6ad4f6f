package meet

import (
	"reflect"
	"slices"

	"benchmeet/domain/day"
	"benchmeet/domain/programme"
	"benchmeet/domain/refusal"
)

// MergeDivisions has small divisions race together and ranks them apart: the
// entries of From race in Into and keep their own band. Only before the draw, and
// only cars of one class.
type MergeDivisions struct {
	Into day.DivisionID
	From []day.DivisionID
}

// SplitDivision takes divisions apart again that race together in one, before the
// draw.
type SplitDivision struct {
	Division day.DivisionID
}

func (c MergeDivisions) decide(s *day.State, m Meta) ([]day.Event, error) {
	into, err := programme.Undrawn(s, c.Into)
	if err != nil {
		return nil, err
	}
	in := map[day.EntrantID]bool{}
	for _, e := range s.SortedEntries(c.Into) {
		in[e.Entrant] = in[e.Entrant] || e.Racing()
	}
	if len(c.From) == 0 {
		return nil, refusal.New("merge-with", "division", c.Into)
	}
	for i, id := range c.From {
		d, err := programme.Undrawn(s, id)
		if err != nil {
			return nil, err
		}
		switch {
		case id == c.Into || slices.Contains(c.From[:i], id):
			return nil, refusal.New("merge-twice", "division", id)
		case len(programme.Merged(s, id)) > 0:
			return nil, refusal.New("merge-host", "division", id)
		case !reflect.DeepEqual(d.Class, into.Class):
			return nil, refusal.New("merge-class", "division", id, "into", c.Into)
		}
		for _, e := range s.SortedEntries(id) {
			if e.Racing() && in[e.Entrant] {
				return nil, refusal.New("entrant-there", "number", e.StartNumber, "division", id)
			}
			in[e.Entrant] = in[e.Entrant] || e.Racing()
		}
	}
	return []day.Event{day.DivisionsMerged{Into: c.Into, From: c.From, By: m.Actor}}, nil
}

func (c SplitDivision) decide(s *day.State, m Meta) ([]day.Event, error) {
	d, err := programme.Undrawn(s, c.Division)
	if err != nil {
		return nil, err
	}
	from := programme.Merged(s, d.ID)
	if len(from) == 0 {
		return nil, nil
	}
	return []day.Event{day.DivisionsSplit{Division: d.ID, From: from, By: m.Actor}}, nil
}
