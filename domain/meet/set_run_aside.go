package meet

import "benchmeet/domain/refusal"

// SetRunAside says of a waiting run that it will not count: somebody tried the
// bench, or the car ran by mistake.
type SetRunAside struct {
	Run    RunID
	Reason Reason
}

// RunSetAside says that a run will not count.
type RunSetAside struct {
	Ruled
	Run RunID `json:"run"`
}

func (c SetRunAside) decide(s *State, m Meta) ([]Event, error) {
	r, err := s.run(c.Run)
	if err != nil {
		return nil, err
	}
	switch {
	case r.Void:
		return nil, nil
	case s.held(r.ID, "", ""):
		return nil, refusal.New("run-counts", "run", r.ID)
	}
	ruled, err := s.ruled(m, c.Reason)
	if err != nil {
		return nil, err
	}
	return []Event{RunSetAside{Ruled: ruled, Run: r.ID}}, nil
}

// Type is the name in the log.
func (RunSetAside) Type() string { return "RunSetAside" }

func (e RunSetAside) apply(s *State) {
	r := s.Runs[e.Run]
	r.Void = true
	s.Runs[e.Run] = r
	s.rule(e.Type(), e.Ruled, Ruling{Run: e.Run, Heat: r.Heat, Entry: r.Entry})
}
