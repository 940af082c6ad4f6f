package health

import (
	"log/slog"
	"net/http"
	"time"

	"github.com/labstack/echo/v4"
)

// Requests counts every request and logs it: by its route, never by what stands in its
// place in the address, and without its query, headers and body. Those that were
// refused for who asks, or that the server could not answer, are logged always, the
// others where all is set.
func Requests(m *Metrics, log *slog.Logger, all bool, asker func(*http.Request) string) echo.MiddlewareFunc {
	return func(next echo.HandlerFunc) echo.HandlerFunc {
		return func(c echo.Context) error {
			began := time.Now()
			m.working.Inc()
			// An answer that is cut short ends in a panic, which is counted like the others.
			defer func() {
				m.working.Dec()
				route, method, status := c.Path(), known(c.Request().Method), c.Response().Status
				m.answered(route, method, status, time.Since(began))
				level, worth := worth(status)
				if worth || all {
					log.Log(c.Request().Context(), level, "request", "route", route, "method", method, "status", status,
						"ms", time.Since(began).Milliseconds(), "bytes", c.Response().Size, "from", asker(c.Request()))
				}
			}()
			if err := next(c); err != nil {
				c.Error(err)
			}
			return nil
		}
	}
}

// worth says whether a request is always logged, and how loudly.
func worth(status int) (slog.Level, bool) {
	switch {
	case status >= http.StatusInternalServerError:
		return slog.LevelWarn, true
	case status == http.StatusUnauthorized, status == http.StatusForbidden, status == http.StatusTooManyRequests:
		return slog.LevelInfo, true
	}
	return slog.LevelInfo, false
}

// known keeps methods that somebody made up out of log and figures.
func known(method string) string {
	switch method {
	case http.MethodGet, http.MethodHead, http.MethodPost, http.MethodPut, http.MethodDelete, http.MethodOptions:
		return method
	}
	return "other"
}
