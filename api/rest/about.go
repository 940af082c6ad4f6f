package rest

import (
	"context"
	"time"

	"benchmeet/api/gen"
	"benchmeet/api/wire"
)

// about says what this server is.
type about struct {
	reads
	version   string
	now       func() time.Time
	scale     float64
	addresses func(context.Context) []string
	secure    func() *gen.Secure
}

// GetAbout says what this server is.
func (s about) GetAbout(ctx context.Context, _ gen.GetAboutRequestObject) (gen.GetAboutResponseObject, error) {
	return gen.GetAbout200JSONResponse{
		Version: s.version, Now: s.now().UTC(), ClockScale: s.scale, Club: s.placed(ctx), Addresses: s.addresses(ctx), Secure: s.secure(),
		Shared: wire.Opt(placeOf(ctx).Shared),
	}, nil
}
