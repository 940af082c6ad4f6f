package main

import (
	"errors"
	"fmt"
	"log/slog"
	"net/http"
	"os"

	"github.com/labstack/echo/v4"
	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"benchmeet/api/broker"
	"benchmeet/api/health"
	"benchmeet/api/relay"
	"benchmeet/api/rest"
	"benchmeet/domain/refusal"
)

// isFeedNode says whether a server only passes the live feed on: it is told of a broker,
// and of nothing to keep a day in.
func (o serveSettings) isFeedNode(f *pflag.FlagSet) bool {
	_, data := os.LookupEnv("BENCHMEET_DATA")
	return o.Feed != "" && o.Database == "" && !data && !f.Changed("data")
}

// serveFeed passes the live feed on until it is stopped.
func serveFeed(cmd *cobra.Command, o serveSettings) error {
	log := slog.New(slog.NewTextHandler(cmd.ErrOrStderr(), nil))
	proxies, err := readProxies(o.Proxies)
	if err != nil {
		return err
	}
	for _, other := range []string{"tls", "tls-cert", "example", "new-sign-in", "club"} {
		if cmd.Flags().Changed(other) {
			return fmt.Errorf("--%s is nothing for a feed node, which keeps nothing and stands behind a proxy: "+
				"leave it out, or name what is kept with --database or --data", other)
		}
	}
	if o.Listeners, err = mostListeners(o.Listeners); err != nil {
		return err
	}
	spareMemory()
	b, err := broker.Open(o.Feed, log)
	if err != nil {
		return err
	}
	defer b.Close()
	node := relay.NewNode(relay.NodeOptions{Broker: b, Most: o.Listeners, Log: log})
	listener, err := listenAt(cmd.Context(), o.Listen)
	if err != nil {
		return err
	}
	web := newHTTP(feedHandler(node, o, proxies, log))
	ended := make(chan error, 1)
	go func() { ended <- web.Serve(listener) }()
	out := cmd.OutOrStdout()
	fmt.Fprintln(out, "Benchmeet passes the live feed on, at /api/v1/meets/{meet}/live under:")
	for _, a := range places("http://", listener.Addr()) {
		fmt.Fprintln(out, "  "+a)
	}
	select {
	case <-cmd.Context().Done():
	case err = <-ended:
	}
	node.Close()
	finish(web)
	if errors.Is(err, http.ErrServerClosed) {
		return nil
	}
	return err
}

// feedHandler is all that a feed node answers.
func feedHandler(node *relay.Node, o serveSettings, p proxies, log *slog.Logger) http.Handler {
	e := echo.New()
	e.HideBanner, e.HidePort = true, true
	e.HTTPErrorHandler = rest.Problems(log)
	metrics := health.NewMetrics(node.Listeners)
	e.Use(health.Requests(metrics, log, o.LogRequests, p.asker))
	giver := health.Need{Ask: node.Ready, Away: "no server that keeps the day answers over the broker"}
	e.GET("/healthz", echo.WrapHandler(http.HandlerFunc(health.Up)))
	e.GET("/readyz", echo.WrapHandler(health.Ready(giver, func() []string { return nil })))
	e.GET("/metrics", func(c echo.Context) error {
		if !fromHere(c.Request()) {
			return refusal.New("no-page")
		}
		metrics.Handler().ServeHTTP(c.Response(), c.Request())
		return nil
	})
	listen := func(c echo.Context) error {
		r := c.Request()
		return node.Serve(c.Response(), r, p.asker(r), relay.Place{Host: hostOf(r), Path: c.Param("club"), Meet: c.Param("meet")})
	}
	for _, before := range []string{"", "/c/:club"} {
		e.GET(before+"/api/v1/meets/:meet/live", listen)
		e.GET(before+"/api/v1/practice/live", listen)
	}
	e.GET("/*", func(echo.Context) error { return refusal.New("feed-only") })
	return p.honest(asGet(e))
}
