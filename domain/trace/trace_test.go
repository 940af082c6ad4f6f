package trace_test

import (
	"bytes"
	"crypto/sha256"
	"encoding/json"
	"errors"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"benchmeet/domain/trace"
)

const boot = "0123456789abcdef"

func key(number int) trace.Key { return trace.Key{Bench: "b1", Boot: boot, Run: "r1", Number: number} }

// split cuts stamps into chunks at the given places and closes the run.
func split(stamps []int64, cuts ...int) []trace.Chunk {
	var out []trace.Chunk
	from := 0
	for _, to := range append(slices.Clone(cuts), len(stamps)) {
		out = append(out, trace.Chunk{Key: key(len(out)), Stamps: stamps[from:to]})
		from = to
	}
	out[len(out)-1].Last = &trace.Totals{
		Chunks: len(out), Stamps: len(stamps), StartSource: trace.StartBenchClock, StartUS: 5, DurationUS: 60_000_000, Meet: "spring",
	}
	return out
}

func packed(chunks []trace.Chunk) []trace.Stored {
	var out []trace.Stored
	for _, c := range chunks {
		out = append(out, c.Pack())
	}
	return out
}

// TestJoinAnyWay: however a train is cut, in whatever order and how often its
// chunks come, the same stamps come out.
func TestJoinAnyWay(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		stamps := rapid.SliceOfN(rapid.Int64Range(0, trace.MaxStamp), 0, 60).Draw(t, "stamps")
		slices.Sort(stamps)
		cuts := rapid.SliceOfN(rapid.IntRange(0, len(stamps)), 0, 6).Draw(t, "cuts")
		slices.Sort(cuts)
		chunks := split(stamps, cuts...)
		for _, c := range chunks {
			if err := c.Check(); err != nil {
				t.Fatal(err)
			}
		}
		stored := packed(chunks)
		again := rapid.SliceOfN(rapid.SampledFrom(stored), 0, 5).Draw(t, "again")
		sent := rapid.Permutation(append(slices.Clone(stored), again...)).Draw(t, "order")
		train, err := trace.Join(sent)
		if err != nil {
			t.Fatal(err)
		}
		want := trace.Train{Bench: "b1", Boot: boot, Run: "r1", Stamps: stamps, Totals: *chunks[len(chunks)-1].Last}
		if diff := cmp.Diff(want.Stamps, train.Stamps, cmp.Comparer(slices.Equal[[]int64])); diff != "" || !cmp.Equal(train.Totals, want.Totals) {
			t.Fatalf("(-want +got)\n%s%+v", diff, train.Totals)
		}
		if train.Hash() != want.Hash() {
			t.Fatal("the hash depends on how the train was cut")
		}
		// Without any one of its chunks the run is incomplete, never wrong.
		at := rapid.IntRange(0, len(stored)-1).Draw(t, "missing")
		if _, err := trace.Join(slices.Delete(slices.Clone(stored), at, at+1)); !errors.Is(err, trace.ErrIncomplete) {
			t.Fatalf("without chunk %d: %v", at, err)
		}
	})
}

func TestJoinRefuses(t *testing.T) {
	good := func() []trace.Chunk { return split([]int64{10, 20, 30, 40}, 2) }
	tests := []struct {
		name   string
		chunks []trace.Chunk
		says   string
		kept   int // stamps of the train that comes with the error
	}{
		{"two contents under one number", append(good(), trace.Chunk{Key: key(0), Stamps: []int64{11, 20}}), "two contents", 0},
		{"totals of two kinds", append(good(), func() trace.Chunk {
			c := good()[1]
			c.Last = &trace.Totals{Chunks: 2, Stamps: 5}
			return c
		}()), "two contents", 0},
		{
			"closed twice", append(good(), trace.Chunk{Key: key(2), Stamps: []int64{50}, Last: &trace.Totals{Chunks: 3, Stamps: 5}}), "closed twice",
			5,
		},
		{"a chunk behind the last", append(good(), trace.Chunk{Key: key(2), Stamps: []int64{50}}), "has a chunk 2", 5},
		{"fewer stamps than stated", func() []trace.Chunk {
			c := good()
			c[1].Last.Stamps = 5
			return c
		}(), "has 4 stamps, its last chunk says 5", 4},
		{"chunks of two runs", append(good(), trace.Chunk{Key: trace.Key{Bench: "b1", Boot: boot, Run: "r2"}}), "run r2", 0},
		{
			"chunks of two starts of the box", append(good(), trace.Chunk{Key: trace.Key{Bench: "b1", Boot: strings.Repeat("f", 16), Run: "r1"}}),
			"start ffffffffffffffff", 0,
		},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			stored := packed(test.chunks)
			for range stored { // in any order
				stored = append(stored[1:], stored[0])
				train, err := trace.Join(stored)
				if len(train.Stamps) != test.kept || errors.Is(err, trace.ErrDisagree) != (test.kept > 0) {
					t.Errorf("%d stamps came with %v, want %d", len(train.Stamps), err, test.kept)
				}
				if err == nil || errors.Is(err, trace.ErrIncomplete) {
					t.Errorf("got %v, want %q", err, test.says)
				}
			}
			if _, err := trace.Join(packed(test.chunks)); err == nil || !strings.Contains(err.Error(), test.says) {
				t.Errorf("got %v, want %q", err, test.says)
			}
		})
	}
	if _, err := trace.Join(nil); !errors.Is(err, trace.ErrIncomplete) {
		t.Errorf("no chunk at all: %v", err)
	}
}

func TestCheck(t *testing.T) {
	last := func(change func(l *trace.Totals)) trace.Chunk {
		l := trace.Totals{Chunks: 1, Stamps: 2}
		change(&l)
		return trace.Chunk{Key: key(0), Stamps: []int64{1, 2}, Last: &l}
	}
	plain := func(stamps ...int64) trace.Chunk { return trace.Chunk{Key: key(0), Stamps: stamps} }
	at := func(change func(k *trace.Key)) trace.Chunk {
		c := plain(1)
		change(&c.Key)
		return c
	}
	tests := []struct {
		name  string
		chunk trace.Chunk
		says  string // "" is accepted
	}{
		{"no stamps", plain(), ""},
		{"equal stamps", plain(5, 5), ""},
		{"the largest stamp", plain(trace.MaxStamp), ""},
		{"as many stamps as fit", plain(make([]int64, trace.MaxStamps)...), ""},
		{"one more", plain(make([]int64, trace.MaxStamps+1)...), "at most 10000"},
		{"a negative stamp", plain(-1), "stamps_us[0] is -1"},
		{"a stamp beyond 2^53", plain(1, 1<<53), "stamps_us[1] is 9007199254740992"},
		{"backwards", plain(1, 5, 4), "stamps_us[2] runs backwards (4 after 5)"},
		{"a negative number", at(func(k *trace.Key) { k.Number = -1 }), "chunk number -1"},
		{"the largest number", at(func(k *trace.Key) { k.Number = trace.MaxChunks - 1 }), ""},
		{"one more chunk", at(func(k *trace.Key) { k.Number = trace.MaxChunks }), "chunk number 4000"},
		{"a short boot id", at(func(k *trace.Key) { k.Boot = "1" }), "16 hexadecimal digits"},
		{"a boot id in capitals", at(func(k *trace.Key) { k.Boot = "0123456789ABCDEF" }), "16 hexadecimal digits"},
		{"totals", last(func(*trace.Totals) {}), ""},
		{"totals of other chunks", last(func(l *trace.Totals) { l.Chunks = 2 }), "last.chunks must be 1, not 2"},
		{"more stamps than chunks hold", last(func(l *trace.Totals) { l.Stamps = trace.MaxStamps + 1 }), "cannot hold"},
		{"negative stamps", last(func(l *trace.Totals) { l.Stamps = -1 }), "cannot hold"},
		{"an unknown source", last(func(l *trace.Totals) { l.StartSource = "whistle" }), "bench_clock or arrival"},
		{"a start without a source", last(func(l *trace.Totals) { l.StartUS = 5 }), "needs last.start_source"},
		{"a start out of range", last(func(l *trace.Totals) { l.StartSource, l.StartUS = trace.StartArrival, -1 }), "0 to 2^53-1"},
		{"lost passes", last(func(l *trace.Totals) { l.Lost = 3 }), ""},
		{"fewer than none lost", last(func(l *trace.Totals) { l.Lost = -1 }), "last.lost is -1"},
		{"restarts", last(func(l *trace.Totals) { l.RestartsUS = []int64{5, 9} }), ""},
		{"restarts in disorder", last(func(l *trace.Totals) { l.RestartsUS = []int64{9, 5} }), "last.restarts_us[1] is 5"},
		{"more restarts than a box makes", last(func(l *trace.Totals) { l.RestartsUS = make([]int64, 1001) }), "at most 1000"},
		{"a clock of half the rate", last(func(l *trace.Totals) { l.ClockPPB = -500_000_001 }), "last.clock_ppb"},
		{"a day and more", last(func(l *trace.Totals) { l.DurationUS = 25 * 3600 * 1_000_000 }), "24 hours"},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			err := test.chunk.Check()
			if (err == nil) != (test.says == "") || err != nil && !strings.Contains(err.Error(), test.says) {
				t.Errorf("got %v, want %q", err, test.says)
			}
		})
	}
}

// TestSame: a resent chunk is the same, one with another stamp, other totals or
// another key is not.
func TestSame(t *testing.T) {
	chunks := split([]int64{1, 2, 3})
	a := chunks[0].Pack()
	if !a.Same(chunks[0].Pack()) {
		t.Error("a resent chunk is another")
	}
	others := []trace.Chunk{chunks[0], chunks[0], chunks[0]}
	others[0].Stamps = []int64{1, 2, 4}
	others[1].Last = &trace.Totals{Chunks: 1, Stamps: 4}
	others[2].Key.Bench = "b2"
	for i, other := range others {
		if a.Same(other.Pack()) {
			t.Errorf("change %d is not seen", i)
		}
	}
}

// TestHash freezes the canonical form of a train, as anybody can make it.
func TestHash(t *testing.T) {
	for text, train := range map[string]trace.Train{
		`{"bench":"b1","boot":"0123456789abcdef","run":"r1","stamps_us":[10,20],"totals":{"chunks":1,"stamps":2,"start_source":"bench_clock","start_us":5}}`: {
			Bench: "b1", Boot: boot, Run: "r1", Stamps: []int64{10, 20},
			Totals: trace.Totals{Chunks: 1, Stamps: 2, StartSource: trace.StartBenchClock, StartUS: 5},
		},
		`{"bench":"b1","boot":"0123456789abcdef","run":"r1","stamps_us":[10],"totals":{"chunks":1,"stamps":1,"lost":2,"restarts_us":[7],"clock_ppb":-3,"u_clock_ppb":4}}`: {
			Bench: "b1", Boot: boot, Run: "r1", Stamps: []int64{10},
			Totals: trace.Totals{Chunks: 1, Stamps: 1, Lost: 2, RestartsUS: []int64{7}, ClockPPB: -3, UClockPPB: 4},
		},
		`{"bench":"b1","boot":"0123456789abcdef","run":"r1","stamps_us":[],"totals":{"chunks":1,"stamps":0}}`: {
			Bench: "b1", Boot: boot, Run: "r1", Totals: trace.Totals{Chunks: 1},
		},
	} {
		if want := sha256.Sum256([]byte(text)); train.Hash() != want {
			t.Errorf("the hash of %s is %x, want %x", text, train.Hash(), want)
		}
	}
}

// TestHashIsThatOfTheObject: written by hand for speed, the text is what an encoder
// of JSON writes.
func TestHashIsThatOfTheObject(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		train := trace.Train{
			Bench: rapid.String().Draw(t, "bench"), Boot: rapid.String().Draw(t, "boot"), Run: rapid.String().Draw(t, "run"),
			Stamps: rapid.SliceOf(rapid.Int64()).Draw(t, "stamps"),
			Totals: trace.Totals{Chunks: rapid.Int().Draw(t, "chunks"), Meet: rapid.String().Draw(t, "meet")},
		}
		text, err := json.Marshal(struct {
			Bench  string       `json:"bench"`
			Boot   string       `json:"boot"`
			Run    string       `json:"run"`
			Stamps []int64      `json:"stamps_us"`
			Totals trace.Totals `json:"totals"`
		}{train.Bench, train.Boot, train.Run, train.Stamps, train.Totals})
		if err != nil {
			t.Fatal(err)
		}
		if train.Hash() != sha256.Sum256(text) {
			t.Errorf("the hash is not that of %s", text)
		}
	})
}

// FuzzJoin reads stored bytes that may be damaged: no panic, and what joins holds
// stamps that no clock runs backwards over, as many as it says.
func FuzzJoin(f *testing.F) {
	good := split([]int64{10, 20, 30})[0].Pack()
	f.Add(good.Packed, good.Last)
	f.Add([]byte{0xff, 0xff, 0xff, 0xff, 0xff, 0xff, 0xff, 0xff, 0xff, 0x01}, []byte(`{"chunks":1,"stamps":1}`))
	f.Add([]byte{0x80}, []byte(`{"chunks":1,"stamps":0}`))
	f.Add([]byte{1}, []byte(`{"chunks":-1,"stamps":0}`))
	f.Fuzz(func(t *testing.T, packed, last []byte) {
		train, err := trace.Join([]trace.Stored{{Key: key(0), Packed: packed, Last: last}})
		if err != nil {
			return
		}
		if len(train.Stamps) != train.Totals.Stamps || !slices.IsSorted(train.Stamps) {
			t.Fatalf("joined %v with %+v", train.Stamps, train.Totals)
		}
		if n := len(train.Stamps); n > 0 && (train.Stamps[0] < 0 || train.Stamps[n-1] > trace.MaxStamp) {
			t.Fatalf("a stamp out of range: %v", train.Stamps)
		}
		totals, err := json.Marshal(train.Totals)
		if err != nil || !json.Valid(bytes.TrimSpace(totals)) {
			t.Fatalf("totals %s, %v", totals, err)
		}
	})
}
