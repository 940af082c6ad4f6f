package measure

import (
	"errors"
	"fmt"
	"slices"
)

// Piece is a chunk of a run's stamps, as a counter box sends it.
type Piece struct {
	// Boot tells one start of the counter box from all others.
	Boot string
	// Number counts the pieces of this boot in this run from 0.
	Number int
	Stamps []int64
}

// ErrConflict is returned when a piece comes twice with different stamps.
var ErrConflict = errors.New("the same piece was sent before with other stamps")

// Assembly puts the pieces of one run in order. Pieces may come in any order and
// more than once. Boots are taken in the order in which they were first seen,
// as nothing else orders them. It holds all stamps of the run. An Assembly is
// for one goroutine.
type Assembly struct {
	parts []*part
}

// part is what came from one boot.
type part struct {
	boot          string
	pieces        map[int][]int64
	fed           int // pieces that a tracker has
	closed        bool
	chunks, total int
	restarted     bool // the tracker was told of this boot
}

// Add takes a piece. It reports whether the piece is new; one that came before
// with the same stamps changes nothing.
func (a *Assembly) Add(p Piece) (fresh bool, err error) {
	if p.Number < 0 {
		return false, fmt.Errorf("piece number %d: count the pieces from 0", p.Number)
	}
	part := a.part(p.Boot)
	if old, ok := part.pieces[p.Number]; ok {
		if !slices.Equal(old, p.Stamps) {
			return false, fmt.Errorf("piece %d of boot %s: %w", p.Number, p.Boot, ErrConflict)
		}
		return false, nil
	}
	if part.closed && p.Number >= part.chunks {
		return false, fmt.Errorf("piece %d of boot %s: the run was closed with %d pieces", p.Number, p.Boot, part.chunks)
	}
	part.pieces[p.Number] = slices.Clone(p.Stamps)
	return true, nil
}

// Close states how many pieces and stamps a boot has sent in all.
func (a *Assembly) Close(boot string, chunks, stamps int) {
	part := a.part(boot)
	part.closed, part.chunks, part.total = true, chunks, stamps
}

// Check returns nil when every piece is there and the totals agree; otherwise
// an error that names what is missing.
func (a *Assembly) Check() error {
	for _, part := range a.parts {
		if !part.closed {
			return fmt.Errorf("boot %s: the last piece has not come", part.boot)
		}
		stamps := 0
		for n := range part.chunks {
			piece, ok := part.pieces[n]
			if !ok {
				return fmt.Errorf("boot %s: piece %d of %d has not come", part.boot, n, part.chunks)
			}
			stamps += len(piece)
		}
		if stamps != part.total || len(part.pieces) != part.chunks {
			return fmt.Errorf("boot %s: %d stamps in %d pieces have come, but the last piece says %d in %d",
				part.boot, stamps, len(part.pieces), part.total, part.chunks)
		}
	}
	return nil
}

// Feed gives a tracker what is next in order and was not given before. It stops
// at a missing piece, and goes on to another boot only when nothing of the one
// before is missing. Feed one tracker from one Assembly.
func (a *Assembly) Feed(t *Tracker) {
	for i, part := range a.parts {
		if i > 0 && !part.restarted {
			part.restarted = true
			t.Restart()
		}
		for {
			piece, ok := part.pieces[part.fed]
			if !ok {
				break
			}
			t.AddAll(piece)
			part.fed++
		}
		if part.fed < len(part.pieces) || part.closed && part.fed < part.chunks {
			return
		}
	}
}

// part finds what came from a boot, or makes room for it.
func (a *Assembly) part(boot string) *part {
	for _, p := range a.parts {
		if p.boot == boot {
			return p
		}
	}
	p := &part{boot: boot, pieces: map[int][]int64{}}
	a.parts = append(a.parts, p)
	return p
}
