package postgres

import (
	"net"
	"time"
)

// How a connection is found to lead nowhere: it is asked after a silence, and again, and
// what is sent has to be received at the other end within goneAfter. Without it a machine
// that lost its power, or a cable that was pulled, is waited for a quarter of an hour.
const (
	silence   = 10 * time.Second
	askEvery  = 5 * time.Second
	askTimes  = 3
	goneAfter = 25 * time.Second
)

// dialer opens connections that do not wait long for a database that is gone.
func dialer() *net.Dialer {
	return &net.Dialer{
		KeepAliveConfig: net.KeepAliveConfig{Enable: true, Idle: silence, Interval: askEvery, Count: askTimes},
		Control:         receiveWithin(goneAfter),
	}
}
