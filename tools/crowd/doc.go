// Package crowd is thousands of WebSocket listeners in one goroutine, for the benchmarks
// of the live feed: they read at a fraction of what a server needs to write, so that the
// server is what is measured. It runs on Linux alone (epoll) and talks to loopback.
//
// A crowd counts frames and does not look into them; it answers pings, so it stays as
// long as a page would. It is no example of a client: nothing is checked that a
// browser checks.
package crowd
