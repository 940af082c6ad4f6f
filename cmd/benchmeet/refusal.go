package main

import "fmt"

// refusal is an input that was understood and breaks a rule: exit code 1.
type refusal struct{ err error }

func (r *refusal) Error() string { return r.err.Error() }
func (r *refusal) Unwrap() error { return r.err }

// refuse makes a refusal; the sentence names the entry and the rule.
func refuse(format string, args ...any) error {
	return &refusal{err: fmt.Errorf(format, args...)}
}
