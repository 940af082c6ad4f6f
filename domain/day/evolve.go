package day

// Evolve puts one event into s, in place: the caller owns s, and hands a Clone
// where others still read it. Replaying a stream from New with Evolve is the
// only way to make a state.
func Evolve(s *State, e Event, atUS int64) {
	s.Seq++
	s.TimeUS = atUS
	if c, is := e.(changed); is {
		if lifted := c.lift(s); lifted != nil {
			e = lifted
		}
	}
	note(s, e)
	e.apply(s)
	note(s, e)
}

// changed is an event that had another form in earlier versions, which said less: a
// rule that was in the fold then made the rest of the state before it.
type changed interface {
	Event
	// lift is the event as it is written now, nil where it was written so.
	lift(s *State) Event
}
