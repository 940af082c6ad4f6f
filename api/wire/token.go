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
		Id: t.ID, Role: gen.Role(t.Role), Label: t.Label, Actor: t.Actor, Benches: []string{},
		Created: time.UnixMicro(t.CreatedUS).UTC(), Revoked: t.RevokedUS != 0,
	}
	out.Benches = append(out.Benches, t.Benches...)
	if t.ExpiresUS != 0 {
		expires := time.UnixMicro(t.ExpiresUS).UTC()
		out.Expires = &expires
	}
	return out
}

// ReadWish reads what a token is to be, without its club.
func ReadWish(b gen.MakeToken) auth.Wish {
	return auth.Wish{Role: auth.Role(b.Role), Label: b.Label, Benches: Deref(b.Benches), Expires: Deref(b.Expires)}
}
