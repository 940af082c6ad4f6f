package day

import "slices"

// PutAway says that what was made for a trial, or by mistake, is shown nowhere any
// more: an entry, a division with its entries, or, where neither is named, the meet.
type PutAway struct {
	Division DivisionID `json:"division,omitempty"`
	Entry    EntryID    `json:"entry,omitempty"`
	By       string     `json:"by"`
}

// BroughtBack says that what was put away is there again, as it was.
type BroughtBack struct {
	Division DivisionID `json:"division,omitempty"`
	Entry    EntryID    `json:"entry,omitempty"`
	// Races is the division in which an entry races now: its own was perhaps merged
	// or split while it was away.
	Races DivisionID `json:"races,omitempty"`
	By    string     `json:"by"`
}

// away is what was put away of a meet. It stands nowhere else in the state, so that
// no rule, list or picture has to leave it out.
type away struct {
	Meet      bool                        `json:"meet,omitempty"`
	Divisions map[DivisionID]awayDivision `json:"divisions,omitempty"`
	// Entries are those that were put away by themselves.
	Entries map[EntryID]Entry `json:"entries,omitempty"`
}

// awayDivision is a division that is put away, with all that was put away with it.
type awayDivision struct {
	Division  Division  `json:"division"`
	Programme Programme `json:"programme"`
	Entries   []Entry   `json:"entries,omitempty"` // by start number
}

// Has says whether an entry is put away, by itself or with its division.
func (a away) Has(id EntryID) bool {
	if _, alone := a.Entries[id]; alone {
		return true
	}
	for _, d := range a.Divisions {
		if slices.ContainsFunc(d.Entries, func(e Entry) bool { return e.ID == id }) {
			return true
		}
	}
	return false
}

// Type is the name in the log.
func (PutAway) Type() string { return "PutAway" }

func (e PutAway) apply(s *State) {
	switch {
	case e.Entry != "":
		put(&s.Away.Entries, e.Entry, s.takeOut(e.Entry))
	case e.Division != "":
		d := awayDivision{Division: s.Divisions[e.Division], Programme: s.Programmes[e.Division]}
		for _, entry := range s.SortedEntries(e.Division) {
			d.Entries = append(d.Entries, s.takeOut(entry.ID))
		}
		put(&s.Away.Divisions, e.Division, d)
		delete(s.Divisions, e.Division)
		delete(s.Programmes, e.Division)
	default:
		s.Away.Meet = true
	}
}

// Type is the name in the log.
func (BroughtBack) Type() string { return "BroughtBack" }

func (e BroughtBack) apply(s *State) {
	switch {
	case e.Entry != "":
		entry, home := s.Away.Entries[e.Entry], s.Away.Entries[e.Entry].Home()
		if entry.Division, entry.Band = e.Races, ""; home != e.Races {
			entry.Band = home
		}
		delete(s.Away.Entries, e.Entry)
		s.putIn(entry)
	case e.Division != "":
		d := s.Away.Divisions[e.Division]
		delete(s.Away.Divisions, e.Division)
		s.Divisions[e.Division], s.Programmes[e.Division] = d.Division, d.Programme
		for _, entry := range d.Entries {
			s.putIn(entry)
		}
	default:
		s.Away.Meet = false
	}
}

// takeOut takes an entry out of the day; its start number is free.
func (s *State) takeOut(id EntryID) Entry {
	entry := s.Entries[id]
	delete(s.Entries, id)
	delete(s.Numbers, entry.StartNumber)
	return entry
}

func (s *State) putIn(e Entry) { s.Entries[e.ID], s.Numbers[e.StartNumber] = e, e.ID }

func put[K comparable, V any](into *map[K]V, key K, value V) {
	if *into == nil {
		*into = map[K]V{}
	}
	(*into)[key] = value
}
