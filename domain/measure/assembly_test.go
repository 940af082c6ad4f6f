package measure

import (
	"errors"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

// TestPiecesInAnyOrder shuffles and doubles pieces: the measurement stays.
func TestPiecesInAnyOrder(t *testing.T) {
	stamps := sixMinutes(3000)[:3000]
	setup := Setup{Bench: Bench{CircumferenceMM: nominalMM}}
	want := measured(t, setup, stamps)
	rapid.Check(t, func(t *rapid.T) {
		var pieces []Piece
		for rest := stamps; len(rest) > 0; {
			n := min(len(rest), rapid.IntRange(0, 900).Draw(t, "size"))
			pieces = append(pieces, Piece{"b0", len(pieces), rest[:n]})
			rest = rest[n:]
		}
		chunks := len(pieces)
		pieces = append(pieces, pieces[rapid.IntRange(0, chunks-1).Draw(t, "twice")])
		tracker, err := New(setup)
		if err != nil {
			t.Fatal(err)
		}
		var a Assembly
		for i, p := range rapid.Permutation(pieces).Draw(t, "order") {
			if i == 2 {
				a.Close("b0", chunks, len(stamps))
			}
			if _, err := a.Add(p); err != nil {
				t.Fatal(err)
			}
			a.Feed(tracker)
		}
		a.Close("b0", chunks, len(stamps))
		if err := a.Check(); err != nil {
			t.Fatal(err)
		}
		if diff := cmp.Diff(want, tracker.Finish(NoEnd)); diff != "" {
			t.Fatalf("differs (-want +got):\n%s", diff)
		}
	})
}

func TestAssemblyNamesWhatIsWrong(t *testing.T) {
	tests := []struct {
		name string
		do   func(a *Assembly) error
		says string
	}{
		{"a piece is missing", func(a *Assembly) error {
			_, err := a.Add(Piece{"b", 1, []int64{1}})
			a.Close("b", 2, 3)
			return errors.Join(err, a.Check())
		}, "piece 0 of 2 has not come"},
		{"the totals differ", func(a *Assembly) error {
			_, err := a.Add(Piece{"b", 0, []int64{1}})
			a.Close("b", 1, 3)
			return errors.Join(err, a.Check())
		}, "1 stamps in 1 pieces"},
		{"no end", func(a *Assembly) error {
			_, err := a.Add(Piece{"b", 0, []int64{1}})
			return errors.Join(err, a.Check())
		}, "last piece has not come"},
		{"other content", func(a *Assembly) error {
			_, err := a.Add(Piece{"b", 0, []int64{1}})
			_, err2 := a.Add(Piece{"b", 0, []int64{2}})
			if !errors.Is(err2, ErrConflict) {
				t.Errorf("got %v, want ErrConflict", err2)
			}
			return errors.Join(err, err2)
		}, "other stamps"},
		{"beyond the end", func(a *Assembly) error {
			a.Close("b", 1, 1)
			_, err := a.Add(Piece{"b", 1, []int64{1}})
			return err
		}, "closed with 1 pieces"},
		{"a number below 0", func(a *Assembly) error {
			_, err := a.Add(Piece{"b", -1, nil})
			return err
		}, "from 0"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			if err := tt.do(new(Assembly)); err == nil || !strings.Contains(err.Error(), tt.says) {
				t.Errorf("got %v, want an error with %q", err, tt.says)
			}
		})
	}
}

// TestRestartOfTheCounterBox adds the turns of two boots and flags it.
func TestRestartOfTheCounterBox(t *testing.T) {
	tracker, err := New(Setup{Bench: Bench{CircumferenceMM: 100}})
	if err != nil {
		t.Fatal(err)
	}
	var a Assembly
	for _, p := range []Piece{{"b0", 0, steady(5_000_000, 101)}, {"b1", 0, steady(7000, 51)}} {
		if _, err := a.Add(p); err != nil {
			t.Fatal(err)
		}
	}
	a.Feed(tracker)
	m := tracker.Finish(NoEnd)
	if m.Turns != 150 || m.Extra != 0 || m.Wraps != 0 || !slices.Contains(codes(m), Restarted) {
		t.Errorf("got %+v, want 100 and 50 turns and the restart flagged", m)
	}
}
