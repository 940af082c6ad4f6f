package ledger

import (
	"context"
	"crypto/sha256"
	"errors"
	"fmt"

	"benchmeet/api/store"
	"benchmeet/domain/compact"
	"benchmeet/domain/journal"
)

// Keep says how states of a model are kept between two starts. What is kept is a
// cache: it may be deleted at any moment, and it is believed only where it is whole,
// of this version, and at a place that the log has with that very hash.
type Keep[S any] struct {
	// Version names all that a kept state depends on beside its log.
	Version string
	// Every is after how many events a state is kept anew.
	Every int64
	// Pack writes a state as a head and parts that never change, from number from on.
	Pack func(s *S, from int) (head []byte, parts [][]byte)
	// Unpack reads what Pack wrote.
	Unpack func(head []byte, part func(n int) ([]byte, error)) (*S, error)
}

// kept is the row that says what is kept of a stream; the parts of the state stand
// in rows of their own.
type kept struct {
	Version string
	Stream  string
	Seq     int64
	Hash    string
	TimeUS  int64
	Parts   []string // their sums
	Head    string
}

// The names of the rows.
const keptName = "state"

func partName(n int) string { return fmt.Sprintf("state/%06d", n) }

// keptForm is the form of the row itself.
const keptForm = "1/"

// sealed puts a sum in front of a value, and unsealed checks it: what a disk or a
// hand has changed is not read.
func sealed[T any](v T) []byte {
	body := compact.Append(nil, &v)
	sum := sha256.Sum256(body)
	return append(sum[:], body...)
}

func unsealed[T any](text []byte) (v T, err error) {
	if len(text) < sha256.Size || sha256.Sum256(text[sha256.Size:]) != [sha256.Size]byte(text[:sha256.Size]) {
		return v, errors.New("its sum is wrong")
	}
	return v, compact.Read(compact.NewReader(text[sha256.Size:]), &v)
}

func sumOf(text []byte) string {
	sum := sha256.Sum256(text)
	return string(sum[:])
}

// errOtherLog is returned where a state was not made of the log that is there.
var errOtherLog = errors.New("it was not made of this log")

// resume loads the stream from what is kept of it and the events since. Without
// anything that can be believed it returns nil: the log is folded from its start
// then, and its state kept anew. Damage behind the kept place is an error.
func (s *stream[S, C, E]) resume(ctx context.Context) (w *work[S, C, E], err error) {
	l := s.ledger
	if l.model.Keep == nil || l.caches == nil {
		return nil, nil
	}
	w, parts, err := s.unpack(ctx)
	switch {
	case errors.Is(err, store.ErrNotFound), ctx.Err() != nil:
		return nil, ctx.Err()
	case err != nil:
		l.log.Info("a kept state is not used; folding its log instead", "stream", s.name.String(), "error", err)
		return nil, nil
	}
	place, met := w.head, false
	err = readAhead(ctx, l.logs, s.name, place.Seq-1, func(r journal.Record) error {
		if met {
			return w.fold(r)
		}
		if met = true; r.Head() != place {
			return errOtherLog
		}
		return nil
	})
	if err == nil && !met {
		err = errOtherLog // the log ends before it
	}
	if errors.Is(err, errOtherLog) {
		l.log.Info("a kept state is not used; folding its log instead", "stream", s.name.String(), "error", err)
		return nil, nil
	}
	if err != nil {
		return nil, err
	}
	s.mu.Lock()
	s.keptSeq, s.keptParts = place.Seq, parts
	s.mu.Unlock()
	return w, nil
}

// unpack reads what is kept, and the sums of its parts.
func (s *stream[S, C, E]) unpack(ctx context.Context) (w *work[S, C, E], parts []string, err error) {
	defer fault(&err)
	l := s.ledger
	text, err := l.caches.Cache(ctx, s.name, keptName)
	if err != nil {
		return nil, nil, err
	}
	k, err := unsealed[kept](text)
	if err != nil {
		return nil, nil, err
	}
	if k.Version != keptForm+l.model.Keep.Version || k.Stream != s.name.String() || k.Seq < 1 {
		return nil, nil, fmt.Errorf("it is of version %q of %s at %d", k.Version, k.Stream, k.Seq)
	}
	w = &work[S, C, E]{stream: s, head: journal.Head{Seq: k.Seq}, timeUS: k.TimeUS, copied: true}
	if w.head.Hash, err = journal.ParseHash(k.Hash); err != nil {
		return nil, nil, err
	}
	w.state, err = l.model.Keep.Unpack([]byte(k.Head), func(n int) ([]byte, error) {
		text, err := l.caches.Cache(ctx, s.name, partName(n))
		if errors.Is(err, store.ErrNotFound) || err == nil && (n >= len(k.Parts) || sumOf(text) != k.Parts[n]) {
			return nil, fmt.Errorf("part %d is missing or changed", n)
		}
		return text, err
	})
	return w, k.Parts, err
}

// keep has the state kept, beside the orders, if that is due.
func (s *stream[S, C, E]) keep() {
	l := s.ledger
	if l.model.Keep == nil || l.caches == nil {
		return
	}
	s.mu.Lock()
	due := !s.keeping && s.head.Seq-s.keptSeq >= l.model.Keep.Every
	s.keeping = s.keeping || due
	now, timeUS, parts := Snapshot[S]{s.state, s.head}, s.timeUS, s.keptParts
	s.mu.Unlock()
	if !due {
		return
	}
	l.beside(func() { // not after Close, when nothing is kept any more
		parts, err := s.pack(now, timeUS, parts)
		if err != nil && !errors.Is(err, ErrClosed) {
			l.log.Warn("the state is not kept; the next start takes longer", "stream", s.name.String(), "error", err)
		}
		s.mu.Lock()
		s.keeping, s.keptSeq = false, now.Head.Seq // after a failure it is tried again as many events later
		if err == nil {
			s.keptParts = parts
		}
		s.mu.Unlock()
		s.keep() // many orders may have come meanwhile
	})
}

// pack writes the parts that are not there yet, and then the row that names them.
func (s *stream[S, C, E]) pack(now Snapshot[S], timeUS int64, parts []string) (_ []string, err error) {
	defer fault(&err)
	l := s.ledger
	head, more := l.model.Keep.Pack(now.State, len(parts))
	parts = parts[:len(parts):len(parts)]
	for _, text := range more {
		if l.closing() {
			return nil, ErrClosed // years of runs must not hold a stop up; the next start keeps them
		}
		if err := l.caches.PutCache(l.ctx, s.name, partName(len(parts)), text); err != nil {
			return nil, err
		}
		parts = append(parts, sumOf(text))
	}
	return parts, l.caches.PutCache(l.ctx, s.name, keptName, sealed(kept{
		Version: keptForm + l.model.Keep.Version, Stream: s.name.String(),
		Seq: now.Head.Seq, Hash: now.Head.Hash.String(), TimeUS: timeUS, Parts: parts, Head: string(head),
	}))
}
