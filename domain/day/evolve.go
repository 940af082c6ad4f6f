package day

// Evolve puts one event into s, in place: the caller owns s, and hands a Clone
// where others still read it. Replaying a stream from New with Evolve is the
// only way to make a state.
func Evolve(s *State, e Event, atUS int64) {
	s.Seq++
	s.rests = s.rests.until(s.TimeUS, atUS)
	s.TimeUS = atUS
	if c, is := e.(changed); is && c.version() != 0 {
		e = c.lift(s)
	}
	note(s, e)
	e.apply(s)
	note(s, e)
}

// changed is an event that had another form in earlier versions, which said less: a
// rule that was in the fold then made the rest of the state before it.
type changed interface {
	Event
	version() int
	// lift is an event of an earlier version as it is written now.
	lift(s *State) Event
	// lowered is an event of today as an earlier version wrote it, without what it did
	// not say; see Lower.
	lowered(version int) changed
}
