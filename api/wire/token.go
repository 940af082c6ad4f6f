package wire

import (
	"time"

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
