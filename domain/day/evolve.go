package day

// Evolve puts one event into s, in place: the caller owns s, and hands a Clone
// where others still read it. Replaying a stream from New with Evolve is the
// only way to make a state.
func Evolve(s *State, e Event, atUS int64) {
	s.Seq++
	s.TimeUS = atUS
	e.apply(s)
}
