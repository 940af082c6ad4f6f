package sheet

import "fmt"

// Refusal is an input that was understood and breaks a rule: exit code 1.
type Refusal struct{ err error }

// Error is the sentence.
func (r *Refusal) Error() string { return r.err.Error() }

// Unwrap is what it was made of.
func (r *Refusal) Unwrap() error { return r.err }

// Refuse makes a refusal; the sentence names the entry and the rule.
func Refuse(format string, args ...any) error {
	return &Refusal{err: fmt.Errorf(format, args...)}
}
