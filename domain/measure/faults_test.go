package measure

import (
	"slices"
	"testing"

	"benchmeet/domain/simulate"
)

// codes returns the flag codes of a measurement.
func codes(m Measurement) []Code {
	var list []Code
	for _, f := range m.Flags {
		list = append(list, f.Code)
	}
	return list
}

// covers reports whether the 95 % interval of a measurement holds the truth.
func covers(m Measurement, truth float64) bool {
	d := truth - m.DistanceM
	return !m.Distance.None && d >= -m.Distance.Below && d <= m.Distance.Above
}

// TestFaultsAreFlagged plays one fault at a time and names the flags that must
// and those that must not come, and how far the turns may be from the truth.
func TestFaultsAreFlagged(t *testing.T) {
	tests := []struct {
		name  string
		spoil func(p *simulate.Params)
		want  []Code // beside the usual few bridged passes
		not   []Code
		slack float64
		// ends says that what is lost at either end is known to the interval alone.
		ends bool
		// truth is what can be counted, where that is not the way of the roller.
		truth func(p simulate.Params) float64
	}{
		{name: "none", slack: 0.2},
		{
			name: "every second pass lost from 5 s on", spoil: func(p *simulate.Params) { p.HalfFromS = 5 },
			want: []Code{HalfSpeed, ManyBridged, NoInterval}, not: []Code{DoubleSpeed}, slack: 2.2,
		},
		{
			name: "every pass seen twice from 5 s on", spoil: func(p *simulate.Params) { p.DoubleFromS = 5 },
			want: []Code{DoubleSpeed, ManyExtra, NoInterval}, not: []Code{HalfSpeed}, slack: 0.2,
		},
		{
			name: "a stall at 12 s", spoil: func(p *simulate.Params) { p.StallAtS = 12 },
			want: []Code{Stalled}, not: []Code{Coasting, WentSilent, NoInterval}, slack: 1.5,
		},
		{
			name: "a car off the rollers at 8 s", spoil: func(p *simulate.Params) { p.OffAtS = 8 },
			want: []Code{Coasting}, not: []Code{OpenGap}, slack: 1.6,
		},
		{
			name: "off and back on", spoil: func(p *simulate.Params) { p.OffAtS, p.BackAtS = 8, 12 },
			want: []Code{Coasting}, not: []Code{OpenGap, DoubleSpeed, HalfSpeed}, slack: 0.2,
		},
		{
			// What is counted went by before; of what came then nobody can say anything.
			name: "a sensor that falls silent", spoil: func(p *simulate.Params) { p.FailAtS = 10 },
			want: []Code{Stalled, WentSilent, NoInterval}, slack: 1,
			truth: func(p simulate.Params) float64 {
				p.FailAtS, p.DurationS = 0, 10
				return simulate.Run(p).Truth.Turns
			},
		},
		{
			// Twenty seconds of the lamp are counted, and nothing of the roller.
			name: "a lamp at 100 Hz", spoil: func(p *simulate.Params) { p.FlickerHz = 100 },
			want: []Code{MainsFlicker, NoRise, NoInterval}, slack: 1.1,
			truth: func(p simulate.Params) float64 { return p.FlickerHz * p.DurationS },
		},
		{
			// Twenty seconds of the lamp are counted, and nothing of the roller.
			name: "a lamp at 120 Hz", spoil: func(p *simulate.Params) { p.FlickerHz = 120 },
			want: []Code{MainsFlicker, NoRise, NoInterval}, slack: 1.1,
			truth: func(p simulate.Params) float64 { return p.FlickerHz * p.DurationS },
		},
		{
			name: "a start before the signal", spoil: func(p *simulate.Params) { p.ReactionS = -0.7 },
			want: []Code{EarlyStart}, slack: 0.2,
		},
		{
			name: "bursts of missed passes", spoil: func(p *simulate.Params) { p.BurstRate = 0.004 },
			want: []Code{Bridged}, not: []Code{HalfSpeed, OpenGap, NoInterval}, slack: 0.2, ends: true,
		},
		{
			name: "stray light", spoil: func(p *simulate.Params) { p.StrayPerS = 2 },
			not: []Code{OpenGap, DoubleSpeed, Noise}, slack: 1,
		},
		{
			name: "an impossible motor", spoil: func(p *simulate.Params) { p.RPM = 30_000 },
			want: []Code{TooFast}, slack: 0.3,
		},
	}
	always := []Code{
		Stalled, WentSilent, Coasting, MainsFlicker, HalfSpeed, DoubleSpeed, OpenGap, EarlyStart, NoRise, TooFast, Noise, Backwards,
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			for seed := range uint64(20) {
				p := simulate.Usual(seed, 7000+500*float64(seed%10), 20)
				if tt.spoil != nil {
					tt.spoil(&p)
				}
				train := simulate.Run(p)
				m := measured(t, timed(Bench{CircumferenceMM: nominalMM}, p), train.Stamps)
				got := codes(m)
				for _, code := range tt.want {
					if !slices.Contains(got, code) {
						t.Errorf("seed %d: no flag %s in %v", seed, code, got)
					}
				}
				for _, code := range tt.not {
					if slices.Contains(got, code) {
						t.Errorf("seed %d: flag %s in %v", seed, code, got)
					}
				}
				if tt.spoil == nil {
					for _, code := range always {
						if slices.Contains(got, code) {
							t.Errorf("seed %d: flag %s for a good run", seed, code)
						}
					}
				}
				truth := train.Truth.Turns
				if tt.truth != nil {
					truth = tt.truth(p)
				}
				wide := tt.ends && covers(m, train.Truth.DistanceM)
				if d := m.Turns - truth; !wide && (d > tt.slack || d < -tt.slack) {
					t.Errorf("seed %d: %v turns, truth %v, flags %v", seed, m.Turns, truth, got)
				}
			}
		})
	}
}

// TestACarIsNoLamp runs cars near the mains' rates: none may be taken for a lamp.
func TestACarIsNoLamp(t *testing.T) {
	for seed := range uint64(200) {
		p := simulate.Usual(seed, 6000, 60)
		if seed%2 == 1 {
			p.RPM = 7200
		}
		p.SagFast, p.SagPerS = 0, 0
		m := measured(t, timed(Bench{CircumferenceMM: nominalMM}, p), simulate.Run(p).Stamps)
		if slices.Contains(codes(m), MainsFlicker) {
			t.Errorf("seed %d: flags %v", seed, codes(m))
		}
	}
}

// TestBadStamps feeds what no clock gives among what one does.
func TestBadStamps(t *testing.T) {
	stamps := slices.Clone(steady(1_000_000, 100))
	stamps = slices.Insert(stamps, 50, -5, 1<<60, 999_000)
	m := measured(t, Setup{Bench: Bench{CircumferenceMM: 100}}, stamps)
	if m.Turns != 99 || !slices.Equal(codes(m), []Code{Backwards, Impossible}) {
		t.Errorf("%v turns, flags %v", m.Turns, m.Flags)
	}
	if m := measured(
		t, Setup{Bench: Bench{CircumferenceMM: 100}}, nil,
	); !slices.Equal(codes(m), []Code{NoSignal}) || !m.Distance.None || m.Turns != 0 {
		t.Errorf("no stamps: %+v", m)
	}
	if m := measured(t, Setup{Bench: Bench{CircumferenceMM: 100}}, []int64{5}); !slices.Equal(codes(m), []Code{NoSignal}) || !m.Distance.None {
		t.Errorf("one stamp: %+v", m)
	}
}
