package bracket

import (
	"crypto/sha256"
	"encoding/binary"
)

// MaxLotSeed is the largest seed of a lot: seeds stand in events and in JSON, where whole numbers are exact
// only below 2^53.
const MaxLotSeed = 1<<53 - 1

// Lot is a stream of chance that anyone can check by hand. Block number c (from 0) is the SHA-256 of sixteen
// bytes: the seed, then c, each as 8 bytes, most significant first. Every block gives four numbers of 64 bits,
// most significant byte first, in order. Equal seeds give equal streams for ever.
//
// A Lot is not safe for concurrent use, and it advances with every number taken: to repeat a draw, start from
// a new Lot with the same seed.
type Lot struct {
	seed    uint64
	counter uint64
	block   [sha256.Size]byte
	used    int
}

// NewLot returns the stream of the seed. A seed above [MaxLotSeed] is not an error here, but callers that
// store seeds refuse it.
func NewLot(seed uint64) *Lot {
	return &Lot{seed: seed, used: sha256.Size}
}

// Uint64 returns the next number of the stream, uniform over all 64-bit values.
func (l *Lot) Uint64() uint64 {
	if l.used == len(l.block) {
		var in [16]byte
		binary.BigEndian.PutUint64(in[:8], l.seed)
		binary.BigEndian.PutUint64(in[8:], l.counter)
		l.block = sha256.Sum256(in[:])
		l.counter++
		l.used = 0
	}
	v := binary.BigEndian.Uint64(l.block[l.used:])
	l.used += 8
	return v
}

// Intn returns a whole number from 0 to n-1, each equally likely. Of the 2^64
// values the lowest (2^64 mod n) are thrown away and the next one is taken (rejection sampling); the rest is
// taken modulo n. A plain remainder without that step would favour the small results. It panics when n is not
// positive, which is a mistake of the caller.
func (l *Lot) Intn(n int) int {
	if n <= 0 {
		panic("bracket: Intn needs a positive number")
	}
	m := uint64(n)
	// The numbers below 2^64 mod m are the surplus; dropping them leaves a whole number of blocks of m.
	surplus := (-m) % m
	for {
		if v := l.Uint64(); v >= surplus {
			return int(v % m)
		}
	}
}

// Shuffle puts 0..n-1 in an order drawn by lot, by calling swap as the backward Fisher-Yates method does
// (Fisher and Yates 1938, in the form of Durstenfeld 1964): for i from n-1 down to 1, swap i with one of 0..i.
func (l *Lot) Shuffle(n int, swap func(i, j int)) {
	for i := n - 1; i > 0; i-- {
		swap(i, l.Intn(i+1))
	}
}

// Perm returns the numbers 0..n-1 in an order drawn by lot.
func (l *Lot) Perm(n int) []int {
	p := make([]int, n)
	for i := range p {
		p[i] = i
	}
	l.Shuffle(n, func(i, j int) { p[i], p[j] = p[j], p[i] })
	return p
}
