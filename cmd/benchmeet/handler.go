package main

import (
	"net/http"
	"strings"

	"github.com/labstack/echo/v4"

	"benchmeet/api/health"
	"benchmeet/api/live"
	"benchmeet/api/pages"
	"benchmeet/api/rest"
	"benchmeet/domain/refusal"
	"benchmeet/web"
)

// handler puts the API, the live feed and the pages together.
func (s *server) handler(o rest.Options) (http.Handler, error) {
	e := echo.New()
	e.HideBanner, e.HidePort = true, true
	e.Use(health.Requests(s.metrics, s.options.Log, s.options.LogRequests, s.options.Proxies.asker))
	s.careRoutes(e, o)
	if err := rest.Register(e, o); err != nil {
		return nil, err
	}
	who := func(r *http.Request) live.Who {
		caller := rest.Caller(r.Context())
		return live.Who{
			Address: s.options.Proxies.asker(r), Caller: caller.Actor,
			MayOrder: func(bench string) bool { return rest.MayOrder(caller, bench) },
		}
	}
	e.GET("/api/v1/meets/:meet/live", func(c echo.Context) error {
		return s.hub.ServeMeet(c.Response(), c.Request(), who(c.Request()), rest.ClubOf(c.Request().Context(), o), c.Param("meet"))
	}, rest.Identify(o))
	e.GET("/api/v1/practice/live", func(c echo.Context) error {
		if err := rest.Unlisted(c.Request().Context()); err != nil {
			return err
		}
		return s.hub.ServePractice(c.Response(), c.Request(), who(c.Request()), rest.ClubOf(c.Request().Context(), o))
	}, rest.Identify(o))
	files := echo.WrapHandler(pages.Server(web.Pages()))
	s.secure.handOut(e)
	boxImages(e)
	page := func(c echo.Context) error {
		if strings.HasPrefix(c.Request().URL.Path, "/api/") {
			return refusal.New("no-page") // an address of the API, not of a face
		}
		return files(c)
	}
	for _, path := range []string{"/", "/*"} { // the API's group would answer "/" with its own no
		e.GET(path, page)
	}
	return s.options.Proxies.honest(s.placed(asGet(e))), nil
}
