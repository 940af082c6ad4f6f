package trace_test

import (
	"errors"
	"testing"

	"pgregory.net/rapid"

	"benchmeet/domain/trace"
)

// TestRecordedIsFoundAmongLateChunks: however a run was cut, and whatever came under its
// key afterwards, its hash finds the chunks that it was made of, and no others.
func TestRecordedIsFoundAmongLateChunks(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 5).Draw(t, "chunks")
		var chunks []trace.Stored
		stamps := 0
		for number := range n {
			c := trace.Chunk{Key: key(number)}
			for i := range rapid.IntRange(0, 3).Draw(t, "stamps") {
				c.Stamps = append(c.Stamps, int64(1000*number+i))
			}
			stamps += len(c.Stamps)
			if number == n-1 {
				c.Last = &trace.Totals{Chunks: n, Stamps: stamps}
			}
			chunks = append(chunks, c.Pack())
		}
		train, whole, err := trace.Whole(chunks)
		if err != nil || whole != n {
			t.Fatalf("whole: %d chunks, %v", whole, err)
		}
		hash := train.Hash()
		for _, number := range rapid.SliceOfNDistinct(rapid.IntRange(n, n+6), 0, 5, rapid.ID[int]).Draw(t, "late") {
			c := trace.Chunk{Key: key(number)}
			if rapid.Bool().Draw(t, "stamp") {
				c.Stamps = []int64{int64(1000 * number)}
			}
			if rapid.Bool().Draw(t, "end") {
				c.Last = &trace.Totals{Chunks: number + 1, Stamps: stamps, Meet: "autumn"}
			}
			chunks = append(chunks, c.Pack())
		}
		chunks = rapid.Permutation(chunks).Draw(t, "order")
		found, made, err := trace.Recorded(chunks, hash)
		if err != nil || made != n || found.Hash() != hash {
			t.Fatalf("found %d chunks of %d, %v", made, n, err)
		}
		hash[0] ^= 1
		if _, _, err := trace.Recorded(chunks, hash); !errors.Is(err, trace.ErrIncomplete) {
			t.Fatalf("a hash of no train is found: %v", err)
		}
	})
}

// TestWholeDoesNotWaitForWhatIsFarBehind: a chunk behind a gap keeps no run waiting, one
// that follows the last does not agree with the totals, and a missing one is waited for.
func TestWholeDoesNotWaitForWhatIsFarBehind(t *testing.T) {
	one := trace.Chunk{Key: key(0), Stamps: []int64{1}}.Pack()
	end := trace.Chunk{Key: key(1), Stamps: []int64{2}, Last: &trace.Totals{Chunks: 2, Stamps: 2}}.Pack()
	next, far := trace.Chunk{Key: key(2), Stamps: []int64{3}}.Pack(), trace.Chunk{Key: key(9)}.Pack()
	empty := trace.Chunk{Key: key(2)}.Pack()
	for name, tt := range map[string]struct {
		chunks []trace.Stored
		n      int
		err    error
	}{
		"whole":            {[]trace.Stored{end, one}, 2, nil},
		"one far behind":   {[]trace.Stored{far, end, one}, 2, nil},
		"one that follows": {[]trace.Stored{end, next, one}, 3, trace.ErrDisagree},
		"an empty one":     {[]trace.Stored{end, empty, one}, 2, nil},
		"the first lacks":  {[]trace.Stored{end, far}, 0, trace.ErrIncomplete},
		"the end lacks":    {[]trace.Stored{one, far}, 1, trace.ErrIncomplete},
	} {
		if _, n, err := trace.Whole(tt.chunks); n != tt.n || !errors.Is(err, tt.err) {
			t.Errorf("%s: %d chunks, %v; want %d, %v", name, n, err, tt.n, tt.err)
		}
	}
}
