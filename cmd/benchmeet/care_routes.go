package main

import (
	"context"
	"net"
	"net/http"

	"github.com/labstack/echo/v4"

	"benchmeet/api/auth"
	"benchmeet/api/health"
	"benchmeet/api/rest"
	"benchmeet/domain/refusal"
)

// careRoutes are for whoever runs the server.
func (s *server) careRoutes(e *echo.Echo, o rest.Options) {
	database := health.Need{Away: "the database does not answer", Ask: func(ctx context.Context) error {
		_, err := s.store.Clubs(ctx)
		return err
	}}
	e.GET("/healthz", echo.WrapHandler(http.HandlerFunc(health.Up)))
	e.GET("/readyz", echo.WrapHandler(health.Ready(database, s.beside.resting)))
	e.GET("/metrics", echo.WrapHandler(s.metrics.Handler()), rest.Identify(o), func(next echo.HandlerFunc) echo.HandlerFunc {
		return func(c echo.Context) error {
			caller := rest.Caller(c.Request().Context())
			switch {
			case caller.Role == auth.Organiser && caller.Club == s.options.Club.ID, fromHere(c.Request()):
				return next(c)
			case caller.Role == auth.Public:
				return refusal.New("sign-in")
			}
			return refusal.New("not-allowed", "role", caller.Role)
		}
	})
}

// fromHere says whether somebody on this machine asks. A proxy here asks for others, and
// says so.
func fromHere(r *http.Request) bool {
	for _, said := range []string{"X-Forwarded-For", "Forwarded", "X-Real-Ip", "Via"} {
		if r.Header.Get(said) != "" {
			return false
		}
	}
	host, _, err := net.SplitHostPort(r.RemoteAddr)
	ip := net.ParseIP(host)
	return err == nil && ip != nil && ip.IsLoopback()
}
