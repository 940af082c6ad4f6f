package wire

import (
	"benchmeet/api/auth"
	"benchmeet/api/gen"
)

// ShowSession shows who a caller is.
func ShowSession(c auth.Caller) gen.Session {
	out := gen.Session{Role: gen.Role(c.Role), Benches: []string{}}
	out.Benches = append(out.Benches, c.Benches...)
	if c.Actor != "" {
		out.Actor = &c.Actor
	}
	return out
}
