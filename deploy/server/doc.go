// Package server holds what a server is installed with: units, a Debian package, a container
// file, copies and the drill of restoring one. README.md says how; the package has only tests.
package server
