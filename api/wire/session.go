package wire

import (
	"time"

	"benchmeet/api/auth"
	"benchmeet/api/gen"
	"benchmeet/api/store"
)

// ShowSession shows who a caller is.
func ShowSession(c auth.Caller) gen.Session {
	out := gen.Session{Role: gen.Role(c.Role), Benches: []string{}, Meet: Opt(c.Meet)}
	out.Benches = append(out.Benches, c.Benches...)
	if c.Actor != "" {
		out.Actor = &c.Actor
	}
	return out
}

// ShowOpenSession shows a browser that signed in with a token.
func ShowOpenSession(n store.Session, t store.Token, own bool) gen.OpenSession {
	out := gen.OpenSession{
		Id: n.ID, Token: t.ID, Role: gen.Role(auth.RoleNamed(t.Role)), Benches: []string{}, Label: t.Label, Actor: t.Actor,
		Meet: Opt(t.Meet), Made: time.UnixMicro(n.MadeUS).UTC(), Seen: time.UnixMicro(n.SeenUS).UTC(),
		Ends: time.UnixMicro(auth.EndOf(t)).UTC(), Own: own,
	}
	out.Benches = append(out.Benches, t.Benches...)
	return out
}
