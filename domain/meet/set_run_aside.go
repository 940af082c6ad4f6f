package meet

import "benchmeet/domain/refusal"

// SetRunAside says of a waiting run that it will not count: somebody tried the
// bench, or the car ran by mistake.
type SetRunAside struct {
	Run RunID
	// Entry is whose run it was, where a bench sent it for nobody; whom the reason
	// is about. It may be empty.
	Entry  EntryID
	Reason Reason
}

// RunSetAside says that a run will not count.
type RunSetAside struct {
	Ruled
	Run   RunID   `json:"run"`
	Entry EntryID `json:"entry,omitempty"` // where the run itself is nobody's
}

func (c SetRunAside) decide(s *State, m Meta) ([]Event, error) {
	r, err := s.Run(c.Run)
	if err != nil {
		return nil, err
	}
	entry := EntryID("")
	if c.Entry != "" && r.Entry == "" {
		e, err := s.Entry(c.Entry)
		if err != nil {
			return nil, err
		}
		entry = e.ID
	}
	switch {
	case r.Void:
		return nil, nil
	case held(s, r.ID, "", ""):
		return nil, refusal.New("run-counts", "run", r.ID)
	}
	ruled, err := ruledBy(s, m, c.Reason)
	if err != nil {
		return nil, err
	}
	return []Event{RunSetAside{Ruled: ruled, Run: r.ID, Entry: entry}}, nil
}

// Type is the name in the log.
func (RunSetAside) Type() string { return "RunSetAside" }

func (e RunSetAside) apply(s *State) {
	r := s.Runs[e.Run]
	r.Void = true
	s.Runs[e.Run] = r
	about := Ruling{Run: e.Run, Heat: r.Heat, Entry: r.Entry}
	if r.Entry == "" {
		about.Entry = e.Entry
	}
	s.rule(e.Type(), e.Ruled, about)
}
