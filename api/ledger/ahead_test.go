package ledger_test

import (
	"context"
	"errors"
	"fmt"
	"testing"

	"benchmeet/api/ledger"
	"benchmeet/api/store"
	"benchmeet/domain/journal"
)

// tape is a log of so many records that ends with an error, and a panic where that
// is nil and more is wanted.
type tape struct {
	store.Logs
	n       int64
	err     error
	panics  bool
	stopped chan error // what ended the reading
}

func (t *tape) Read(ctx context.Context, _ store.Stream, after int64, each func(journal.Record) error) (err error) {
	defer func() { t.stopped <- err }()
	for seq := after + 1; seq <= t.n; seq++ {
		if err := each(journal.Record{Seq: seq}); err != nil {
			return err
		}
	}
	if t.panics {
		panic("a fault")
	}
	return t.err
}

// TestReadAhead hands on every record in order, and each ending as it is.
func TestReadAhead(t *testing.T) {
	broken := errors.New("the store is away")
	enough := errors.New("enough")
	for _, n := range []int64{0, 1, 511, 512, 513, 5000} {
		for _, c := range []struct {
			name  string
			tape  *tape
			until int64 // each gives an error there
			want  error
		}{
			{"to the end", &tape{n: n}, -1, nil},
			{"a store that fails", &tape{n: n, err: broken}, -1, broken},
			{"a fault of the program", &tape{n: n, panics: true}, -1, errAny},
			{"a reader that has enough", &tape{n: n}, n/2 + 1, enough},
		} {
			t.Run(fmt.Sprintf("%s/%d", c.name, n), func(t *testing.T) {
				c.tape.stopped = make(chan error, 1)
				next := int64(3)
				err := ledger.ReadAhead(t.Context(), c.tape, clubStream, 2, func(r journal.Record) error {
					if r.Seq != next {
						t.Fatalf("record %d comes where %d should", r.Seq, next)
					}
					if next++; r.Seq == c.until {
						return enough
					}
					return nil
				})
				<-c.tape.stopped // nothing is left running
				want := c.want
				if c.until >= 0 && (c.until < 3 || c.until > n) {
					want = nil // it never gets there
				}
				if !errors.Is(err, want) && (!errors.Is(want, errAny) || err == nil) {
					t.Errorf("ends with %v, want %v", err, want)
				}
				if !errors.Is(want, enough) && !c.tape.panics && next != max(n, 2)+1 {
					t.Errorf("%d records of %d", next-1, n)
				}
			})
		}
	}
}

// errAny stands for any error.
var errAny = errors.New("any")
