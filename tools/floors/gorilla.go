package main

import (
	"bytes"
	"net/http"
	"sync"

	"github.com/gorilla/websocket"
)

// gorilla is the usual broadcast server: two goroutines a connection, a channel between
// the broadcast and the one that writes, one prepared message for all.
type gorilla struct {
	upgrader websocket.Upgrader
	frame    *websocket.PreparedMessage

	mu        sync.Mutex
	listeners map[chan *websocket.PreparedMessage]struct{}
}

func newGorilla(size int) *gorilla {
	frame, err := websocket.NewPreparedMessage(websocket.TextMessage, bytes.Repeat([]byte("x"), size))
	if err != nil {
		panic(err) // a text is always a message
	}
	return &gorilla{
		upgrader: websocket.Upgrader{ReadBufferSize: 512, WriteBufferSize: 4096, WriteBufferPool: &sync.Pool{}},
		frame:    frame, listeners: map[chan *websocket.PreparedMessage]struct{}{},
	}
}

// ServeHTTP takes a listener in and writes to it until it goes.
func (g *gorilla) ServeHTTP(w http.ResponseWriter, r *http.Request) {
	conn, err := g.upgrader.Upgrade(w, r, nil)
	if err != nil {
		return // the upgrader has answered
	}
	defer conn.Close()
	frames := make(chan *websocket.PreparedMessage, 1)
	g.mu.Lock()
	g.listeners[frames] = struct{}{}
	g.mu.Unlock()
	gone := make(chan struct{})
	go func() {
		defer close(gone)
		_, _, _ = conn.NextReader() // listeners say nothing: this is the end
	}()
	for {
		select {
		case <-gone:
			g.mu.Lock()
			delete(g.listeners, frames)
			g.mu.Unlock()
			return
		case frame := <-frames:
			if conn.WritePreparedMessage(frame) != nil {
				return
			}
		}
	}
}

func (g *gorilla) broadcast() {
	g.mu.Lock()
	defer g.mu.Unlock()
	for frames := range g.listeners {
		select {
		case frames <- g.frame:
		default: // it has not sent the last one
		}
	}
}
