package meet

import (
	"benchmeet/domain/day"
	"benchmeet/domain/refusal"
)

// SetRunAside says of a waiting run that it will not count: somebody tried the
// bench, or the car ran by mistake.
type SetRunAside struct {
	Run day.RunID
	// Entry is whose run it was, where a bench sent it for nobody; whom the reason
	// is about. It may be empty.
	Entry  day.EntryID
	Reason day.Reason
}

func (c SetRunAside) decide(s *day.State, m Meta) ([]day.Event, error) {
	r, err := s.Run(c.Run)
	if err != nil {
		return nil, err
	}
	entry := day.EntryID("")
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
	return []day.Event{day.RunSetAside{Ruled: ruled, Run: r.ID, Entry: entry}}, nil
}
