package main

import (
	"net/http"

	"github.com/labstack/echo/v4"

	"benchmeet/deploy/counterbox"
)

// boxImages hands out the ready images of the counter box's program and what loads them,
// beside the page that says how to build one.
func boxImages(e *echo.Echo) {
	files, err := counterbox.Images.ReadDir("images")
	if err != nil {
		panic(err) // they are in the binary
	}
	for _, f := range files {
		image, err := counterbox.Images.ReadFile("images/" + f.Name())
		if err != nil {
			panic(err)
		}
		e.GET("/box/"+f.Name(), func(c echo.Context) error {
			h := c.Response().Header()
			h.Set("Cache-Control", "no-cache")
			h.Set("X-Content-Type-Options", "nosniff")
			h.Set("Content-Disposition", `attachment; filename="`+f.Name()+`"`)
			return c.Blob(http.StatusOK, "application/octet-stream", image)
		})
	}
}
