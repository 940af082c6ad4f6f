// Package web embeds the pages that were built into web/dist: the desk, the
// bench page and the public screen. Before the first build only a placeholder is
// there, so that Go builds and tests do not need Node.
package web

import (
	"embed"
	"io/fs"
)

//go:embed all:dist
var dist embed.FS

// Pages is the file system of the built pages.
func Pages() fs.FS {
	pages, err := fs.Sub(dist, "dist")
	if err != nil {
		panic(err) // the folder is embedded above
	}
	return pages
}
