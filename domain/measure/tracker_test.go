package measure

import (
	"encoding/binary"
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"benchmeet/domain/simulate"
)

// TestAnySplitGivesTheSame cuts one train in any way, asks for live numbers and
// for the end in between, and must get what the whole train gives.
func TestAnySplitGivesTheSame(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := simulate.Usual(rapid.Uint64().Draw(t, "key"), rapid.Float64Range(600, 20_000).Draw(t, "rpm"), 3)
		p.MissRate = rapid.Float64Range(0, 0.1).Draw(t, "misses")
		p.DoubleRate = rapid.Float64Range(0, 0.3).Draw(t, "doubles")
		p.StrayPerS = rapid.Float64Range(0, 5).Draw(t, "strays")
		p.Marks = rapid.IntRange(1, 4).Draw(t, "marks")
		stamps := simulate.Run(p).Stamps
		setup := timed(Bench{CircumferenceMM: nominalMM, MarksPerTurn: p.Marks}, p)
		switch rapid.IntRange(0, 2).Draw(t, "race") {
		case 0:
			setup.Race = Race{}
		case 1:
			distance := 12.5
			setup.Race.DurationS, setup.Race.DistanceM = nil, &distance
		}
		want, err := Measure(setup, stamps)
		if err != nil {
			t.Fatal(err)
		}
		tracker, err := New(setup)
		if err != nil {
			t.Fatal(err)
		}
		for rest := stamps; len(rest) > 0; {
			n := rapid.IntRange(1, len(rest)).Draw(t, "part")
			if n == 1 {
				tracker.Add(rest[0])
			} else {
				tracker.AddAll(rest[:n])
			}
			rest = rest[n:]
			tracker.Live(stamps[len(stamps)-1])
			tracker.Finish(NoEnd)
		}
		if diff := cmp.Diff(want, tracker.Finish(NoEnd)); diff != "" {
			t.Fatalf("differs (-want +got):\n%s", diff)
		}
		tracker.Reset()
		tracker.AddAll(stamps)
		if diff := cmp.Diff(want, tracker.Finish(NoEnd)); diff != "" {
			t.Fatalf("differs after Reset (-want +got):\n%s", diff)
		}
	})
}

// TestShiftAndScale moves a train in time, also across a wrap of the clock, and
// stretches it: the turns stay, the speed scales.
func TestShiftAndScale(t *testing.T) {
	p := simulate.Usual(5, 9000, 10)
	p.DoubleRate, p.MissRate = 0.05, 0.02
	stamps := simulate.Run(p).Stamps
	bench := Bench{CircumferenceMM: nominalMM, StampUS: 1, ClockBits: 32}
	want := measured(t, Setup{Bench: bench}, stamps)

	t.Run("across the wrap of 32 bits", func(t *testing.T) {
		moved := make([]int64, len(stamps))
		for i, s := range stamps {
			moved[i] = (s + 1<<32 - 5_000_000) % (1 << 32)
		}
		got := measured(t, Setup{Bench: bench}, moved)
		if got.Turns != want.Turns || got.MeanRPM != want.MeanRPM || got.Extra != want.Extra || got.Wraps != 1 {
			t.Errorf("got %+v\nwant %+v", got, want)
		}
	})
	t.Run("16 bits", func(t *testing.T) {
		narrow := make([]int64, len(stamps))
		for i, s := range stamps {
			narrow[i] = s % (1 << 16)
		}
		bench := bench
		bench.ClockBits = 16
		got := measured(t, Setup{Bench: bench}, narrow)
		// The clock's range is 65.5 ms: at the very start the roller is slower than half of that a turn.
		if math.Abs(got.Turns-want.Turns) > 1 || got.Wraps < 100 {
			t.Errorf("%v turns and %d wraps, want %v turns", got.Turns, got.Wraps, want.Turns)
		}
	})
	t.Run("a clock that is 200 ppm fast", func(t *testing.T) {
		fast := make([]int64, len(stamps))
		for i, s := range stamps {
			fast[i] = s + int64(math.Round(float64(s)*200e-6))
		}
		got := measured(t, Setup{Bench: bench}, fast)
		if got.Turns != want.Turns || !closeTo(got.MeanRPM*(1+200e-6), want.MeanRPM, 1e-6) {
			t.Errorf("%v turns at %v rpm, want %v at %v", got.Turns, got.MeanRPM, want.Turns, want.MeanRPM)
		}
	})
}

func TestAddDoesNotAllocate(t *testing.T) {
	p := simulate.Usual(9, 12_000, 20)
	p.DoubleRate, p.MissRate, p.StrayPerS = 0.05, 0.02, 1
	stamps := simulate.Run(p).Stamps
	tracker, err := New(Setup{Bench: Bench{CircumferenceMM: nominalMM}})
	if err != nil {
		t.Fatal(err)
	}
	tracker.AddAll(stamps) // lets the list of corrections grow
	allocs := testing.AllocsPerRun(5, func() {
		tracker.Reset()
		for _, s := range stamps {
			tracker.Add(s)
			tracker.Live(s)
		}
	})
	if allocs != 0 {
		t.Errorf("%v allocations in a run, want none", allocs)
	}
}

// checkSane fails on a number that no measurement may hold.
func checkSane(t *testing.T, m Measurement, l Live) {
	t.Helper()
	for name, x := range map[string]float64{
		"turns": m.Turns, "distance": m.DistanceM, "mean rpm": m.MeanRPM, "max rpm": m.MaxRPM,
		"mean speed": m.MeanSpeedMPS, "max speed": m.MaxSpeedMPS, "time": m.TimeS,
		"u": m.Distance.Standard, "U": m.Distance.Half, "u of time": m.Time.Standard, "u of speed": m.UMeanSpeedMPS,
		"laps": float64(m.Laps), "live rpm": l.RPM, "live distance": l.DistanceM, "live turns": l.Turns,
		"wheel": m.WheelMaxRPM, "extra": float64(m.Extra), "bridged": float64(m.Bridged),
	} {
		if math.IsNaN(x) || math.IsInf(x, 0) || x < 0 {
			t.Errorf("%s is %v", name, x)
		}
	}
	if m.MaxRPM < m.MeanRPM {
		t.Errorf("max %v below mean %v", m.MaxRPM, m.MeanRPM)
	}
}

// FuzzTracker feeds any stamps: gaps of 24 bits in µs, or whole 64-bit numbers.
func FuzzTracker(f *testing.F) {
	f.Add([]byte{0, 0x70, 0x17, 0, 0x70, 0x17, 0, 0x70, 0x17}, uint8(0), uint8(1))
	f.Add([]byte{0xff, 0xff, 0xff, 0xff, 0xff, 0xff, 0xff, 0x7f, 0, 0, 0, 0, 0, 0, 0, 0x80}, uint8(1), uint8(3))
	f.Add([]byte{1, 0, 0, 0, 0, 0, 0, 0, 9, 0, 0, 0, 0, 0, 0, 0}, uint8(14), uint8(2))
	f.Fuzz(runFuzz)
}

// runFuzz measures one fuzzed train under a setup that the two numbers choose.
func runFuzz(t *testing.T, data []byte, how, marks uint8) {
	var stamps []int64
	if how&1 == 0 {
		at := int64(0)
		for ; len(data) >= 3; data = data[3:] {
			at += int64(data[0]) | int64(data[1])<<8 | int64(data[2])<<16
			stamps = append(stamps, at)
		}
	} else {
		for ; len(data) >= 8; data = data[8:] {
			stamps = append(stamps, int64(binary.LittleEndian.Uint64(data)))
		}
	}
	stamps = stamps[:min(len(stamps), 2000)]
	setup := Setup{
		Bench: Bench{CircumferenceMM: 94.25, MarksPerTurn: 1 + int(marks%MostMarks), CircumferenceUncertaintyMM: 0.1, ClockPPM: 50},
		Race:  Race{LapM: 20},
		Car:   Car{WheelDiameterMM: 24},
	}
	if how&2 != 0 {
		start, duration := int64(1000), 0.5
		setup.Race.StartUS, setup.Race.DurationS = &start, &duration
	} else if how&4 != 0 {
		distance := 3.0
		setup.Race.DistanceM = &distance
	}
	if how&8 != 0 {
		setup.Bench.MarksPerTurn, setup.Bench.MarkAngles = 3, []float64{0, 100, 250}
	}
	if how&16 != 0 {
		setup.Bench.ClockBits = 16
	}
	tracker, err := New(setup)
	if err != nil {
		t.Fatal(err)
	}
	for i, s := range stamps {
		if how&32 != 0 && i == len(stamps)/2 {
			tracker.Restart()
		}
		tracker.Add(s)
	}
	for _, now := range []int64{0, math.MaxInt64 / 4} {
		checkSane(t, tracker.Finish(now), tracker.Live(now))
	}
	checkSane(t, tracker.Finish(NoEnd), Live{})
}
