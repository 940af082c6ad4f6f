package main

import (
	"net/http"
	"time"
)

// How long the server waits for those who ask. A whole request of a stranger has
// to come within requestWithin; those who are signed in may send slowly as long as
// they send (see api/rest). An answer may take as long as its reader goes on
// reading: each part has pieceWithin to leave.
const (
	headerWithin  = 10 * time.Second
	requestWithin = 15 * time.Second
	idleFor       = time.Minute
	pieceWithin   = 30 * time.Second
	mostHeader    = 16 << 10 // bytes
	piece         = 32 << 10 // bytes
)

// newHTTP makes the server of HTTP.
func newHTTP(handler http.Handler) *http.Server {
	return &http.Server{
		Handler:           patient(handler),
		ReadHeaderTimeout: headerWithin,
		ReadTimeout:       requestWithin,
		IdleTimeout:       idleFor,
		MaxHeaderBytes:    mostHeader,
	}
}

// patient gives each part of an answer its own time, so that a long download may
// take long and a reader that has gone silent is let go.
func patient(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		connection := http.NewResponseController(w)
		_ = connection.SetWriteDeadline(time.Now().Add(pieceWithin)) // without one it only waits longer
		next.ServeHTTP(&pieces{w, connection}, r)
	})
}

// pieces writes an answer part by part.
type pieces struct {
	http.ResponseWriter
	connection *http.ResponseController
}

// Write gives each part its time.
func (p *pieces) Write(all []byte) (int, error) {
	written := 0
	for {
		_ = p.connection.SetWriteDeadline(time.Now().Add(pieceWithin))
		n, err := p.ResponseWriter.Write(all[written:min(len(all), written+piece)])
		written += n
		if err != nil || written >= len(all) {
			return written, err
		}
	}
}

// Unwrap lets the live feed take the connection over.
func (p *pieces) Unwrap() http.ResponseWriter { return p.ResponseWriter }
