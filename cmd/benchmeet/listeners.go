package main

import (
	"errors"
	"syscall"
)

// What the live feed takes of the files that the process may open: three quarters, so
// that the database, the requests and the benches never stand without, and no more than
// half a gigabyte of memory unless somebody asks for it.
const (
	listenersOf   = 4 // one of so many is kept
	usualMost     = 50_000
	withoutLimits = 6000 // where the system does not say
)

// mostListeners is how many may listen: as many as are asked for, or what the limit of
// open files allows.
func mostListeners(asked int) (int, error) {
	var files syscall.Rlimit
	known := syscall.Getrlimit(syscall.RLIMIT_NOFILE, &files) == nil
	return listenersWithin(asked, files.Cur, known)
}

// listenersWithin is mostListeners for a limit.
func listenersWithin(asked int, files uint64, known bool) (int, error) {
	switch {
	case asked < 0:
		return 0, errors.New("--listeners is how many may listen to the live feed: 1 or more, or 0 to go by the limit of open files")
	case asked > 0 && known && uint64(asked) >= files:
		return 0, errors.New("--listeners is more than the system lets this server open files: " +
			"raise that limit (ulimit -n, or LimitNOFILE of the service), or ask for fewer")
	case asked > 0:
		return asked, nil
	case !known:
		return withoutLimits, nil
	}
	return int(min(usualMost, files-files/listenersOf)), nil //nolint:gosec // it is small
}
