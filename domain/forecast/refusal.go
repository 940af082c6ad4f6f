package forecast

import "fmt"

// Refusal is a day that cannot be played, in a sentence that names the division, the
// stage and what to change.
type Refusal struct{ err error }

// Error is the sentence.
func (r *Refusal) Error() string { return r.err.Error() }

// Unwrap is what it was made of.
func (r *Refusal) Unwrap() error { return r.err }

func refusef(format string, args ...any) error { return &Refusal{fmt.Errorf(format, args...)} }
