package meet

import (
	"slices"

	"benchmeet/domain/day"
	"benchmeet/domain/programme"
	"benchmeet/domain/refusal"
)

// PutAway puts away what was made for a trial or by mistake: an entry, a division with
// its entries, or, where neither is named, the meet. Nothing is lost: BringBack shows
// it again.
type PutAway struct {
	Division day.DivisionID
	Entry    day.EntryID
}

// BringBack brings back what was put away, as it was.
type BringBack struct {
	Division day.DivisionID
	Entry    day.EntryID
}

func (c PutAway) decide(s *day.State, m Meta) ([]day.Event, error) {
	if err := s.MustBePlanned(); err != nil {
		return nil, err
	}
	gone, err := false, error(nil)
	switch {
	case c.Entry != "" && c.Division != "":
		return nil, refusal.New("away-one")
	case c.Entry != "":
		_, gone = s.Away.Entries[c.Entry]
		err = entryMayGo(s, c.Entry)
	case c.Division != "":
		_, gone = s.Away.Divisions[c.Division]
		err = divisionMayGo(s, c.Division)
	default:
		gone, err = s.Away.Meet, meetMayGo(s)
	}
	if gone {
		return nil, nil
	}
	if err != nil {
		return nil, err
	}
	return []day.Event{day.PutAway{Division: c.Division, Entry: c.Entry, By: m.Actor}}, nil
}

// meetMayGo refuses while cars stand on benches for the meet, and once results are
// published: families were told them and ratings count them, and neither can be taken
// back by hiding the meet.
func meetMayGo(s *day.State) error {
	for _, h := range s.SortedHeats() {
		if h.Phase == day.PhaseCalled || h.Phase == day.PhaseRacing {
			return refusal.New("away-racing", "heat", h.ID)
		}
	}
	for _, d := range s.SortedDivisions() {
		if len(s.Programmes[d.ID].Published) > 0 {
			return refusal.New("away-published", "division", d.ID)
		}
	}
	return nil
}

func divisionMayGo(s *day.State, id day.DivisionID) error {
	d, err := programme.Hosting(s, id)
	if err != nil {
		return err
	}
	if merged := programme.Merged(s, id); len(merged) > 0 {
		return refusal.New("merge-host", "division", id)
	}
	if stage, _ := s.Programmes[id].Round(); stage > 0 {
		return refusal.New("away-drawn", "division", id)
	}
	for _, e := range s.SortedEntries(d.ID) {
		if err := unmarked(s, e); err != nil {
			return err
		}
	}
	return nil
}

func entryMayGo(s *day.State, id day.EntryID) error {
	e, err := s.Entry(id)
	if err != nil {
		return err
	}
	if stage, _ := s.Programmes[e.Division].Round(); stage > 0 {
		return refusal.New("away-entry-drawn", "number", e.StartNumber, "division", e.Division)
	}
	return unmarked(s, e)
}

// unmarked refuses an entry that the inspector's table or a ruling names: what was
// checked or ruled would stand there of nobody.
func unmarked(s *day.State, e day.Entry) error {
	_, marked := s.Inspections[e.ID]
	for _, p := range s.Packs {
		marked = marked || p.Entry == e.ID
	}
	if marked || slices.ContainsFunc(s.Rulings, func(r day.Ruling) bool { return r.Entry == e.ID }) {
		return refusal.New("away-marked", "number", e.StartNumber)
	}
	return nil
}

func (c BringBack) decide(s *day.State, m Meta) ([]day.Event, error) {
	if err := s.MustBePlanned(); err != nil {
		return nil, err
	}
	e := day.BroughtBack{Division: c.Division, Entry: c.Entry, By: m.Actor}
	switch {
	case c.Entry != "" && c.Division != "":
		return nil, refusal.New("away-one")
	case s.Away.Meet && (c.Entry != "" || c.Division != ""):
		return nil, refusal.New("meet-away")
	case c.Entry != "":
		entry, away := s.Away.Entries[c.Entry]
		if !away {
			_, err := s.Entry(c.Entry)
			return nil, err
		}
		if err := mayReturn(s, entry); err != nil {
			return nil, err
		}
		e.Races = programme.Host(s, entry.Home())
	case c.Division != "":
		d, away := s.Away.Divisions[c.Division]
		if !away {
			_, err := s.Division(c.Division)
			return nil, err
		}
		for _, entry := range d.Entries {
			if err := freeNumber(s, entry.StartNumber, entry.ID); err != nil {
				return nil, err
			}
		}
	case !s.Away.Meet:
		return nil, nil
	}
	return []day.Event{e}, nil
}

// mayReturn refuses an entry whose place was taken while it was away.
func mayReturn(s *day.State, e day.Entry) error {
	home := e.Home()
	if _, away := s.Away.Divisions[home]; away {
		return refusal.New("division-away", "division", home)
	}
	if stage, _ := s.Programmes[programme.Host(s, home)].Round(); stage > 0 {
		return refusal.New("away-late", "number", e.StartNumber, "division", home)
	}
	if err := freeNumber(s, e.StartNumber, e.ID); err != nil {
		return err
	}
	return newHere(s, e.Entrant, home)
}

// newHere refuses a person who is in a division already.
func newHere(s *day.State, who day.EntrantID, division day.DivisionID) error {
	for _, other := range s.SortedEntries(programme.Host(s, division)) {
		if other.Entrant == who && other.Racing() {
			return refusal.New("entrant-there", "number", other.StartNumber, "division", division)
		}
	}
	return nil
}
