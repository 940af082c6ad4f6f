package club

// This file is how events of version 1 are read: what the fold made of them, frozen.

// A run of version 1 was that which its bench was asked for where it had its name. Under
// which name it was sent its event does not say; package evidence knows which fit.
func (e PracticeRecorded) lift(s *State) Event {
	if e.Old == 0 {
		return nil
	}
	e.Sent, e.Armed = "", s.Armed[e.Bench].Run == e.ID
	return e
}

// A change of version 1 says all that it did: it counts from when it came.
func (e CarChanged) lift(*State) Event { return nil }
