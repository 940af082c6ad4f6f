package postgres

import (
	"crypto/sha256"
	"encoding/binary"
)

// lockKey is the number of an advisory lock: the first 64 bits of the name's
// SHA-256. Two names that share a number wait for each other and nothing worse.
func lockKey(name string) int64 {
	sum := sha256.Sum256([]byte(name))
	return int64(binary.BigEndian.Uint64(sum[:8]))
}

// personLock is held shared while a person's rows are written, and alone while
// the person is erased.
func personLock(club, person string) int64 { return lockKey("person/" + club + "/" + person) }

// textLock is the same for a text that is erased alone.
func textLock(club, text string) int64 { return lockKey("text/" + club + "/" + text) }

// fleetLock is held shared by who writes events by what it knows of the servers, and alone by
// a server that comes in. Whoever holds it and a stream's has taken the stream's first.
var fleetLock = lockKey("fleet")
