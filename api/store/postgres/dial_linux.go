package postgres

import (
	"strings"
	"syscall"
	"time"

	"golang.org/x/sys/unix"
)

// receiveWithin has the kernel end a connection whose other end does not say that it
// received what was sent (TCP_USER_TIMEOUT, RFC 5482).
func receiveWithin(d time.Duration) func(network, address string, c syscall.RawConn) error {
	return func(network, _ string, c syscall.RawConn) error {
		if !strings.HasPrefix(network, "tcp") {
			return nil
		}
		var set error
		err := c.Control(func(fd uintptr) {
			set = unix.SetsockoptInt(int(fd), unix.IPPROTO_TCP, unix.TCP_USER_TIMEOUT, int(d.Milliseconds()))
		})
		if err == nil {
			err = set
		}
		return err
	}
}
