package rest

import (
	"context"
	"log/slog"
	"strconv"
	"time"

	"github.com/labstack/echo/v4"
	"github.com/labstack/echo/v4/middleware"

	"benchmeet/api/auth"
	"benchmeet/api/gen"
	"benchmeet/domain/refusal"
)

// door is what every request passes.
type door struct {
	reads
	tokens  auth.Tokens
	log     *slog.Logger
	pace    *pace
	trouble *trouble
	working chan struct{} // a place for each stranger whose question is being worked on
}

// What strangers may have of the server at a time. Orders of the venue never wait
// behind them.
const (
	mostWorking = 4
	turnWithin  = 5 * time.Second
)

// inTurn lets the questions of strangers be worked on a few at a time: standings,
// curves and traces cost much, and any number of phones may ask. Neither waiting
// for a position of the log nor sending the answer takes a turn, so that who waits
// or reads slowly holds nobody up.
func (s door) inTurn(next gen.StrictHandlerFunc, operation string) gen.StrictHandlerFunc {
	return func(c echo.Context, request any) (any, error) {
		ctx := c.Request().Context()
		if Caller(ctx).Role != auth.Public || operation == "SignIn" {
			return next(c, request)
		}
		if seq, err := strconv.ParseInt(c.QueryParam("at_least"), 10, 64); err == nil && seq > 0 && c.Param("meet") != "" {
			reading, stop := context.WithTimeout(ctx, readWithin)
			_, err := s.reached(reading, c.Param("meet"), seq)
			if stop(); err != nil {
				return nil, err
			}
		}
		waiting, stop := context.WithTimeout(ctx, turnWithin)
		defer stop()
		select {
		case s.working <- struct{}{}:
			defer func() { <-s.working }()
			return next(c, request)
		case <-waiting.Done():
			return nil, refusal.New("busy")
		}
	}
}

// outlive makes an answer of a panic, and a line in the server's log: a fault of
// the program fails the request that met it and nothing else.
func (s door) outlive(next echo.HandlerFunc) echo.HandlerFunc {
	return middleware.RecoverWithConfig(middleware.RecoverConfig{
		DisableStackAll: true, DisableErrorHandler: true,
		LogErrorFunc: func(c echo.Context, err error, stack []byte) error {
			s.log.Error("a request met a fault of the program",
				"method", c.Request().Method, "path", c.Request().URL.Path, "error", err, "stack", string(stack))
			return err
		},
	})(next)
}
