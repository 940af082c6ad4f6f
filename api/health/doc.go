// Package health lets whoever runs a server see how it does: whether it is up and
// ready, its figures, and its requests, without a token, a name, a text or what was
// asked for in any of them.
package health
