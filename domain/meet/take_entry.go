package meet

import "benchmeet/domain/refusal"

// TakeEntry enters a person with a car in a division. Age is the entrant's at
// the meet's age date, or -1 where it is not known; the log keeps only the band.
type TakeEntry struct {
	ID          EntryID
	Division    DivisionID
	StartNumber int
	Entrant     EntrantID
	Car         CarID
	Age         int
}

// EntryTaken says that an entry was taken.
type EntryTaken struct {
	ID          EntryID    `json:"id"`
	Division    DivisionID `json:"division"`
	StartNumber int        `json:"start_number"`
	Entrant     EntrantID  `json:"entrant"`
	Car         CarID      `json:"car"`
	RacesUp     bool       `json:"races_up,omitempty"`
	Late        bool       `json:"late,omitempty"`
}

func (c TakeEntry) decide(s *State, _ Meta) ([]Event, error) {
	d, err := s.division(c.Division)
	if err != nil {
		return nil, err
	}
	for _, id := range []struct{ what, id string }{
		{"entry", string(c.ID)},
		{"entrant", string(c.Entrant)},
		{"car", string(c.Car)},
	} {
		if err := checkID(id.what, id.id); err != nil {
			return nil, err
		}
	}
	if _, there := s.Entries[c.ID]; there {
		return nil, refusal.New("entry-there", "entry", c.ID)
	}
	if err := s.freeNumber(c.StartNumber, c.ID); err != nil {
		return nil, err
	}
	late, err := s.mayEnter(d)
	if err != nil {
		return nil, err
	}
	up, err := d.ageFits(c.Age, c.StartNumber)
	if err != nil {
		return nil, err
	}
	return []Event{EntryTaken{
		ID: c.ID, Division: c.Division, StartNumber: c.StartNumber, Entrant: c.Entrant, Car: c.Car,
		RacesUp: up, Late: late,
	}}, nil
}

// maxStartNumber is what fits on a car.
const maxStartNumber = 9999

// freeNumber refuses a start number that another entry has.
func (s *State) freeNumber(number int, for_ EntryID) error {
	if number < 1 || number > maxStartNumber {
		return refusal.New("start-number", "number", number, "most", maxStartNumber)
	}
	if other, taken := s.Numbers[number]; taken && other != for_ {
		return refusal.New("start-number-taken", "number", number, "entry", other)
	}
	return nil
}

// mayEnter says whether a division still takes entries, and whether one is late.
func (s *State) mayEnter(d Division) (late bool, err error) {
	p := s.Programmes[d.ID]
	stage, round := p.round()
	if stage == 0 {
		if p.EntriesClosed {
			return false, refusal.New("entries-closed", "division", d.ID)
		}
		return false, nil
	}
	st := d.Stages[stage-1]
	if s.Rules.Late == LateNextRound && stage == 1 && formats[st.Kind].takesLate(st, round) {
		return true, nil
	}
	return false, refusal.New("entry-late", "division", d.ID)
}

// ageFits allows racing up a band and refuses racing down.
func (d Division) ageFits(age, number int) (up bool, err error) {
	if age < 0 {
		return false, nil
	}
	if d.AgeTo != 0 && age > d.AgeTo {
		return false, refusal.New("too-old", "number", number, "division", d.ID, "age", d.AgeTo)
	}
	return age < d.AgeFrom, nil
}

// Type is the name in the log.
func (EntryTaken) Type() string { return "EntryTaken" }

func (e EntryTaken) apply(s *State) {
	s.Entries[e.ID] = Entry{
		ID: e.ID, Division: e.Division, StartNumber: e.StartNumber, Entrant: e.Entrant, Car: e.Car,
		RacesUp: e.RacesUp, Late: e.Late,
	}
	s.Numbers[e.StartNumber] = e.ID
}

// ChangeEntry puts a mistake right before the division is drawn: number, car or
// division.
type ChangeEntry struct {
	ID          EntryID
	Division    DivisionID
	StartNumber int
	Car         CarID
	Age         int // as in TakeEntry
}

// EntryChanged says how an entry stands now.
type EntryChanged struct {
	ID          EntryID    `json:"id"`
	Division    DivisionID `json:"division"`
	StartNumber int        `json:"start_number"`
	Car         CarID      `json:"car"`
	RacesUp     bool       `json:"races_up,omitempty"`
}

func (c ChangeEntry) decide(s *State, _ Meta) ([]Event, error) {
	e, err := s.entry(c.ID)
	if err != nil {
		return nil, err
	}
	d, err := s.division(c.Division)
	if err != nil {
		return nil, err
	}
	if err := checkID("car", string(c.Car)); err != nil {
		return nil, err
	}
	for _, id := range []DivisionID{e.Division, c.Division} {
		if stage, _ := s.Programmes[id].round(); stage > 0 {
			return nil, refusal.New("division-drawn", "division", id)
		}
	}
	if err := s.freeNumber(c.StartNumber, c.ID); err != nil {
		return nil, err
	}
	up, err := d.ageFits(c.Age, c.StartNumber)
	if err != nil {
		return nil, err
	}
	return []Event{EntryChanged{ID: c.ID, Division: c.Division, StartNumber: c.StartNumber, Car: c.Car, RacesUp: up}}, nil
}

// Type is the name in the log.
func (EntryChanged) Type() string { return "EntryChanged" }

func (e EntryChanged) apply(s *State) {
	old := s.Entries[e.ID]
	delete(s.Numbers, old.StartNumber)
	old.Division, old.StartNumber, old.Car, old.RacesUp = e.Division, e.StartNumber, e.Car, e.RacesUp
	s.Entries[e.ID] = old
	s.Numbers[e.StartNumber] = e.ID
}

// CheckIn notes that the entrant and the car are there. Only entries that are
// checked in are drawn.
type CheckIn struct {
	Entry EntryID
	There bool
}

// EntryCheckedIn says whether an entry is there.
type EntryCheckedIn struct {
	Entry EntryID `json:"entry"`
	There bool    `json:"there"`
	By    string  `json:"by"`
}

func (c CheckIn) decide(s *State, m Meta) ([]Event, error) {
	e, err := s.entry(c.Entry)
	if err != nil {
		return nil, err
	}
	if e.CheckedIn == c.There {
		return nil, nil
	}
	if !c.There && s.isDrawn(c.Entry) {
		return nil, refusal.New("check-in-drawn", "entry", c.Entry)
	}
	return []Event{EntryCheckedIn{Entry: c.Entry, There: c.There, By: m.Actor}}, nil
}

// isDrawn says whether an entry stands in a heat.
func (s *State) isDrawn(entry EntryID) bool {
	for _, h := range s.Heats {
		if _, in := h.lane(entry); in {
			return true
		}
	}
	return false
}

// Type is the name in the log.
func (EntryCheckedIn) Type() string { return "EntryCheckedIn" }

func (e EntryCheckedIn) apply(s *State) {
	entry := s.Entries[e.Entry]
	entry.CheckedIn = e.There
	s.Entries[e.Entry] = entry
}

// CloseEntries ends the taking of entries of a division, before the lots are
// drawn, or opens it again while nothing is drawn.
type CloseEntries struct {
	Division DivisionID
	Open     bool
}

// EntriesClosed says that a division takes no more entries.
type EntriesClosed struct {
	Division DivisionID `json:"division"`
	By       string     `json:"by"`
}

// EntriesReopened says that a division takes entries again.
type EntriesReopened struct {
	Division DivisionID `json:"division"`
	By       string     `json:"by"`
}

func (c CloseEntries) decide(s *State, m Meta) ([]Event, error) {
	if _, err := s.division(c.Division); err != nil {
		return nil, err
	}
	p := s.Programmes[c.Division]
	if p.EntriesClosed == !c.Open {
		return nil, nil
	}
	if !c.Open {
		return []Event{EntriesClosed{c.Division, m.Actor}}, nil
	}
	if stage, _ := p.round(); stage > 0 {
		return nil, refusal.New("division-drawn", "division", c.Division)
	}
	return []Event{EntriesReopened{c.Division, m.Actor}}, nil
}

// Type is the name in the log.
func (EntriesClosed) Type() string { return "EntriesClosed" }

func (e EntriesClosed) apply(s *State) { s.closeEntries(e.Division, true) }

// Type is the name in the log.
func (EntriesReopened) Type() string { return "EntriesReopened" }

func (e EntriesReopened) apply(s *State) { s.closeEntries(e.Division, false) }

func (s *State) closeEntries(d DivisionID, closed bool) {
	p := s.Programmes[d]
	p.EntriesClosed = closed
	s.Programmes[d] = p
}
