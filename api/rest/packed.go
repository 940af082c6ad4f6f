package rest

import (
	"net/http"
	"strings"

	"github.com/labstack/echo/v4"
	"github.com/labstack/echo/v4/middleware"
)

// leastCompressed is the size in bytes from which an answer is worth compressing.
const leastCompressed = 1024

// compress packs answers for those who can unpack them. The fastest level gives
// most of the saving for JSON at a fraction of the time.
func compress() echo.MiddlewareFunc {
	return middleware.GzipWithConfig(middleware.GzipConfig{Level: 1, MinLength: leastCompressed, Skipper: func(c echo.Context) bool {
		return isReady(c) || isOrder(c)
	}})
}

// isOrder says whether the answer is a receipt or a refusal: too short to be compressed,
// which a writer made for it would find out.
func isOrder(c echo.Context) bool { return c.Request().Header.Get(orderKeyHeader) != "" }

// isReady says whether a route has ready answers alone, which are packed already. The
// day plan is not among them: an official's is of this moment.
func isReady(c echo.Context) bool {
	if c.Request().Method != http.MethodGet {
		return false
	}
	of, is := strings.CutPrefix(c.Path(), "/api/v1/meets/:meet")
	if !is {
		return false
	}
	switch of {
	case "", "/board", "/heats", "/runs", "/entries", "/entries/:entry/day",
		"/divisions/:division/standings", "/divisions/:division/bracket":
		return true
	}
	return false
}
