// Package counterbox has the ready images of the counter box's program, for a club to load
// without a compiler: "make images" beside this file makes them, and a test holds them to
// the sources.
package counterbox

import "embed"

// Images are the program for the 8-bit board, what loads it, and the checksums of both.
//
//go:embed images
var Images embed.FS
