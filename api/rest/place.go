package rest

import (
	"context"

	"benchmeet/domain/refusal"
)

// Place is where a request asks: the address of one club, or of the server itself.
type Place struct {
	// Club is the club whose address it is, the server's own club at its root; empty
	// where an address names a club that is not there.
	Club string
	// Base is the path before all paths of the club, such as "/c/harbour"; empty where
	// the club has the whole host.
	Base string
	// Origin is the club's own host with its scheme; empty where it has none.
	Origin string
	// Root says that this is no club's address but the server's own: a key speaks for
	// itself there, whosever it is.
	Root bool
	// Shared says that several clubs share the server whose root this is, so that it
	// lists nothing of anybody.
	Shared bool
}

type placeKey struct{}

// At returns a context in which a request asks at a place. Without one it asks at the
// root of a server with one club.
func At(ctx context.Context, p Place) context.Context { return context.WithValue(ctx, placeKey{}, p) }

func placeOf(ctx context.Context) Place {
	if p, known := ctx.Value(placeKey{}).(Place); known {
		return p
	}
	return Place{Root: true}
}

// errElsewhere is that a key is not of the club whose address it came to.
var errElsewhere = refusal.New("not-your-club")
