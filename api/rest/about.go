package rest

import (
	"context"
	"time"

	"benchmeet/api/gen"
)

// about says what this server is.
type about struct {
	version   string
	public    string
	now       func() time.Time
	scale     float64
	addresses func() []string
	secure    func() *gen.Secure
}

// GetAbout says what this server is.
func (s about) GetAbout(context.Context, gen.GetAboutRequestObject) (gen.GetAboutResponseObject, error) {
	return gen.GetAbout200JSONResponse{
		Version: s.version, Now: s.now().UTC(), ClockScale: s.scale, Club: s.public, Addresses: s.addresses(), Secure: s.secure(),
	}, nil
}
