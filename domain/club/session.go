package club

import (
	"maps"
	"slices"

	"benchmeet/domain/day"
	"benchmeet/domain/meet"
	"benchmeet/domain/refusal"
	"benchmeet/domain/workshop"
)

// SessionOf is the open practice session that a bench is in.
func (s *State) SessionOf(bench day.BenchID) (workshop.Session, bool) {
	for _, one := range slices.Backward(s.Sessions) {
		if one.Open() && slices.Contains(one.Benches, bench) {
			return one, true
		}
	}
	return workshop.Session{}, false
}

// Session is a practice session, open or over.
func (s *State) Session(id string) (workshop.Session, bool) {
	at := s.sessionAt(id)
	if at < 0 {
		return workshop.Session{}, false
	}
	return s.Sessions[at], true
}

func (s *State) sessionAt(id string) int {
	for i := len(s.Sessions) - 1; i >= 0; i-- { // what is asked for is a new one
		if s.Sessions[i].ID == id {
			return i
		}
	}
	return -1
}

// openSession refuses what is no open session.
func openSession(s *State, id string) (workshop.Session, error) {
	one, there := s.Session(id)
	switch {
	case !there:
		return one, refusal.New("no-practice", "session", id)
	case !one.Open():
		return one, refusal.New("practice-over")
	}
	return one, nil
}

// keep puts a session in the place of the one of its id.
func keep(s *State, one workshop.Session) {
	s.Sessions = slices.Clone(s.Sessions)
	s.Sessions[s.sessionAt(one.ID)] = one
}

// ran counts a run of a session, or takes one back.
func ran(s *State, session string, car day.CarID, runs int, distanceUM int64) {
	if one, there := s.Session(session); there {
		keep(s, afterRun(one, car, runs, distanceUM))
	}
}

// afterRun is a session after a run of a car, or without one that is taken back.
func afterRun(one workshop.Session, car day.CarID, runs int, distanceUM int64) workshop.Session {
	one.DistanceUM += distanceUM
	if car == "" {
		return one
	}
	h := one.Had[car]
	h.Runs += runs
	return having(one, car, h)
}

// replaced is a session with a car at a place of the queue, or out of it where to is
// negative, and with the turns that it has had.
func replaced(one workshop.Session, car day.CarID, to, turns int) workshop.Session {
	one.Queue = slices.DeleteFunc(slices.Clone(one.Queue), func(c day.CarID) bool { return c == car })
	if to >= 0 {
		one.Queue = slices.Insert(one.Queue, min(to, len(one.Queue)), car)
	}
	h := one.Had[car]
	h.Turns = turns
	return having(one, car, h)
}

func having(one workshop.Session, car day.CarID, h workshop.Had) workshop.Session {
	had := maps.Clone(one.Had)
	if had == nil {
		had = map[day.CarID]workshop.Had{}
	}
	had[car] = h
	one.Had = had
	return one
}

// OpenPractice opens a practice session on benches that are in no other one.
type OpenPractice struct {
	ID      string
	Benches []day.BenchID
	workshop.Settings
}

// PracticeOpened says that a practice session began.
type PracticeOpened struct {
	ID      string        `json:"id"`
	Benches []day.BenchID `json:"benches"`
	workshop.Settings
	By string `json:"by"`
}

func (c OpenPractice) decide(s *State, m meet.Meta) ([]Event, error) {
	if err := settable(s, "", c.Benches, c.Settings); err != nil {
		return nil, err
	}
	if err := day.CheckID("session", c.ID); err != nil {
		return nil, err
	}
	if _, there := s.Session(c.ID); there {
		return nil, refusal.New("practice-there")
	}
	return []Event{PracticeOpened{ID: c.ID, Benches: c.Benches, Settings: c.Settings, By: m.Actor}}, nil
}

// settable refuses settings that no session has, and benches of another one than this.
func settable(s *State, session string, benches []day.BenchID, set workshop.Settings) error {
	if len(benches) == 0 {
		return refusal.New("practice-benches")
	}
	for i, id := range benches {
		if _, err := s.bench(id); err != nil {
			return err
		}
		if slices.Contains(benches[:i], id) {
			return refusal.New("practice-benches")
		}
		if other, open := s.SessionOf(id); open && other.ID != session {
			return refusal.New("practice-open", "bench", id)
		}
	}
	if set.RaceUS < 1_000_000 || set.RaceUS > 4*3600*1_000_000 {
		return refusal.New("practice-time")
	}
	if set.Turn < 1 || set.Turn > workshop.MostTurn || set.GoalUM < 0 || set.GoalUM > mostGoalUM {
		return refusal.New("practice-settings", "most", workshop.MostTurn)
	}
	return nil
}

// mostGoalUM is a thousand kilometres, in µm.
const mostGoalUM = 1_000_000_000_000

// Type is the name in the log.
func (PracticeOpened) Type() string { return "PracticeOpened" }

func (e PracticeOpened) apply(s *State) {
	one := workshop.Session{ID: e.ID, Settings: e.Settings, Benches: e.Benches, OpenedUS: s.TimeUS}
	s.Sessions = append(s.Sessions[:len(s.Sessions):len(s.Sessions)], one)
}

// SetPractice changes the settings and the benches of an open session. A run that is
// armed already stays as it is.
type SetPractice struct {
	Session string
	Benches []day.BenchID
	workshop.Settings
}

// PracticeSet says what a session goes by from now on.
type PracticeSet struct {
	ID      string        `json:"id"`
	Benches []day.BenchID `json:"benches"`
	workshop.Settings
	By string `json:"by"`
}

func (c SetPractice) decide(s *State, m meet.Meta) ([]Event, error) {
	one, err := openSession(s, c.Session)
	if err != nil {
		return nil, err
	}
	if err := settable(s, c.Session, c.Benches, c.Settings); err != nil {
		return nil, err
	}
	if one.Settings == c.Settings && slices.Equal(one.Benches, c.Benches) {
		return nil, nil
	}
	return []Event{PracticeSet{ID: c.Session, Benches: c.Benches, Settings: c.Settings, By: m.Actor}}, nil
}

// Type is the name in the log.
func (PracticeSet) Type() string { return "PracticeSet" }

func (e PracticeSet) apply(s *State) {
	one, _ := s.Session(e.ID)
	one.Settings, one.Benches = e.Settings, e.Benches
	keep(s, one)
}

// ClosePractice ends a session. What its benches were armed for is taken back; a run that
// is under way is recorded all the same.
type ClosePractice struct {
	Session string
}

// PracticeClosed says that a session is over.
type PracticeClosed struct {
	ID string `json:"id"`
	By string `json:"by"`
}

func (c ClosePractice) decide(s *State, m meet.Meta) ([]Event, error) {
	one, there := s.Session(c.Session)
	switch {
	case !there:
		return nil, refusal.New("no-practice", "session", c.Session)
	case !one.Open():
		return nil, nil
	}
	var out []Event
	for _, bench := range one.Benches {
		if s.Armed[bench].Session == one.ID {
			out = append(out, PracticeCancelled{Bench: bench, Run: s.Armed[bench].Run, By: m.Actor})
		}
	}
	return append(out, PracticeClosed{ID: one.ID, By: m.Actor}), nil
}

// Type is the name in the log.
func (PracticeClosed) Type() string { return "PracticeClosed" }

func (e PracticeClosed) apply(s *State) {
	one, _ := s.Session(e.ID)
	one.ClosedUS, one.Queue = s.TimeUS, nil
	keep(s, one)
}
