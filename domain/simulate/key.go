package simulate

import (
	"crypto/sha256"
	"encoding/binary"
	"math/rand/v2"
)

// Key derives the key of one run from the seed of a rehearsal and the names that
// tell the run from all others, as entry, heat and attempt: the first eight
// bytes of the SHA-256 of the seed and of each name after its length. The order
// in which keys are asked for does not matter.
func Key(seed uint64, parts ...string) uint64 {
	h := sha256.New()
	var word [8]byte
	binary.BigEndian.PutUint64(word[:], seed)
	h.Write(word[:])
	for _, part := range parts {
		binary.BigEndian.PutUint64(word[:], uint64(len(part)))
		h.Write(word[:])
		h.Write([]byte(part))
	}
	return binary.BigEndian.Uint64(h.Sum(nil))
}

// Source returns the random numbers of a key, for draws that a caller makes
// beside the train (which lamp fails, which car is quick).
func Source(key uint64) *rand.Rand {
	return rand.New(rand.NewPCG(key, 0x9e3779b97f4a7c15))
}
