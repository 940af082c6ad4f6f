package wire

import (
	"time"

	"benchmeet/api/auth"
	"benchmeet/api/gen"
	"benchmeet/api/store"
)

// ShowToken shows a token without its secret.
func ShowToken(t store.Token) gen.Token {
	out := gen.Token{
		Id: t.ID, Role: gen.Role(auth.RoleNamed(t.Role)), Label: t.Label, Actor: t.Actor, Benches: []string{},
		Created: time.UnixMicro(t.CreatedUS).UTC(), Revoked: t.RevokedUS != 0, Meet: Opt(t.Meet),
		Expires: time.UnixMicro(auth.EndOf(t)).UTC(),
	}
	out.Benches = append(out.Benches, t.Benches...)
	return out
}

// ReadWish reads what a token is to be, without its club.
func ReadWish(b gen.MakeToken) auth.Wish {
	return auth.Wish{
		Role: auth.RoleNamed(string(b.Role)), Label: b.Label, Benches: Deref(b.Benches), Meet: Deref(b.Meet), Expires: Deref(b.Expires),
	}
}
