package main

import (
	"encoding/binary"
	"net"
	"net/http"
	"os"
	"sync"

	"github.com/gorilla/websocket"
	"golang.org/x/sys/unix"
)

// plain writes the bytes of one frame to every socket in turn, without waiting: what no
// server goes below that makes a call for each listener.
type plain struct {
	upgrader websocket.Upgrader
	frame    []byte

	mu        sync.Mutex
	listeners []int // file descriptors
}

func newPlain(size int) *plain {
	frame := append([]byte{0x81, 126}, binary.BigEndian.AppendUint16(nil, uint16(size))...)
	return &plain{frame: append(frame, make([]byte, size)...)}
}

// ServeHTTP takes a listener in; its connection ends with the program.
func (p *plain) ServeHTTP(w http.ResponseWriter, r *http.Request) {
	conn, err := p.upgrader.Upgrade(w, r, nil)
	if err != nil {
		return // the upgrader has answered
	}
	file, err := conn.NetConn().(*net.TCPConn).File()
	if err != nil {
		panic(err)
	}
	fd := int(file.Fd())
	if err := unix.SetNonblock(fd, true); err != nil {
		panic(err)
	}
	p.mu.Lock()
	defer p.mu.Unlock()
	p.listeners = append(p.listeners, fd)
	kept = append(kept, file, conn)
}

// kept keeps the sockets from being closed as garbage.
var kept []any

func (p *plain) broadcast() {
	p.mu.Lock()
	defer p.mu.Unlock()
	for _, fd := range p.listeners {
		_, _ = unix.Write(fd, p.frame) // who has gone is not missed here
	}
}

func fdatasync(file *os.File) error { return unix.Fdatasync(int(file.Fd())) }
