package compact_test

import (
	"errors"
	"math"
	"reflect"
	"testing"

	"pgregory.net/rapid"

	"benchmeet/domain/compact"
)

type inner struct {
	Text string
	N    int8
}

type whole struct {
	A     int64
	B     uint16
	C     bool
	D     string
	Inner inner
	Maybe *inner
	List  []inner
	Texts []string
	Lists [][]int
	left  int
}

// TestThereAndBack: what is written comes back, one value behind the other, also
// the difference between a list that is empty and none.
func TestThereAndBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		all := rapid.SliceOfN(rapid.Make[whole](), 1, 5).Draw(t, "values")
		var b []byte
		for i := range all {
			all[i].left = 0
			b = compact.Append(b, &all[i])
		}
		r := compact.NewReader(b)
		for i := range all {
			var got whole
			if err := compact.Read(r, &got); err != nil {
				t.Fatal(err)
			}
			if !reflect.DeepEqual(got, all[i]) {
				t.Fatalf("got %+v, want %+v", got, all[i])
			}
		}
		if !r.Over() {
			t.Fatal("something is left")
		}
	})
	for _, n := range []int64{math.MinInt64, -1, 0, 1, math.MaxInt64} {
		b := compact.Append(nil, &n)
		var got int64
		if err := compact.Read(compact.NewReader(b), &got); err != nil || got != n {
			t.Errorf("%d comes back as %d (%v)", n, got, err)
		}
	}
}

// TestCutBytes: fewer bytes than were written are refused, wherever they end.
func TestCutBytes(t *testing.T) {
	v := whole{A: 1 << 40, B: 300, C: true, D: "text", Maybe: &inner{"x", 1}, List: []inner{{"y", 2}}, Lists: [][]int{{1}, {}}}
	b := compact.Append(nil, &v)
	for n := range b {
		var got whole
		if err := compact.Read(compact.NewReader(b[:n]), &got); !errors.Is(err, compact.ErrNotCompact) {
			t.Errorf("%d of %d bytes read as %+v (%v)", n, len(b), got, err)
		}
	}
}

// FuzzRead: whatever the bytes, reading ends, and takes no more memory than they
// give reason for.
func FuzzRead(f *testing.F) {
	f.Add([]byte{255, 255, 255, 255, 255, 255, 255, 255, 255, 1})
	f.Add(compact.Append(nil, &whole{D: "text", List: []inner{{"y", 2}}}))
	f.Fuzz(func(t *testing.T, b []byte) {
		var v whole
		r := compact.NewReader(b)
		for !r.Over() {
			if compact.Read(r, &v) != nil {
				return
			}
			v = whole{}
		}
	})
}
