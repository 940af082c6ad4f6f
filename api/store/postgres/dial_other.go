//go:build !linux

package postgres

import (
	"syscall"
	"time"
)

// receiveWithin leaves it to the system where the kernel has no such setting.
func receiveWithin(time.Duration) func(string, string, syscall.RawConn) error { return nil }
