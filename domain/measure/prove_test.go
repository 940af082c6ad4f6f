package measure

import (
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"slices"
	"strconv"
	"strings"
	"testing"

	"benchmeet/domain/simulate"
)

// condition is one thing that goes wrong on a bench, or nothing. The demands on
// the intervals differ by it.
type condition struct {
	name string
	// spoil draws the parameters of the fault; r is for what it leaves open.
	spoil func(p *simulate.Params, r *rand.Rand)
	// bits wraps the clock at a random place.
	bits int
	// given is the least share of trains that get an interval.
	given float64
	// bounded names the reason where the interval covers in more than 97 %.
	bounded string
}

func conditions() []condition {
	return []condition{
		{name: "clean", given: 0.99},
		{name: "jitter", given: 0.99, spoil: func(p *simulate.Params, r *rand.Rand) {
			p.JitterUS, p.JitterPart = 5+25*r.Float64(), 0.002*r.Float64()
		}},
		{name: "doubles", given: 0.99, spoil: func(p *simulate.Params, r *rand.Rand) {
			p.DoubleRate, p.TrailRate = 0.05*r.Float64(), 0.05*r.Float64()
		}},
		{name: "misses", given: 0.99, spoil: func(p *simulate.Params, r *rand.Rand) { p.MissRate = 0.02 * r.Float64() }},
		{name: "rows of misses", given: 0.90, spoil: func(p *simulate.Params, r *rand.Rand) { p.BurstRate = 0.003 * r.Float64() }},
		{name: "strays", given: 0.90, spoil: func(p *simulate.Params, r *rand.Rand) { p.StrayPerS = 2 * r.Float64() }},
		{name: "two strays a second", given: 0.90, spoil: func(p *simulate.Params, r *rand.Rand) { p.StrayPerS = 2 }},
		{name: "late stamps", given: 0.99, spoil: func(p *simulate.Params, r *rand.Rand) {
			p.DelayRate, p.DelayUS = 0.05*r.Float64(), 200+800*r.Float64()
		}},
		{name: "burst of a remote", given: 0.90, spoil: func(p *simulate.Params, r *rand.Rand) {
			p.RemoteS = 0.01 + 0.19*r.Float64()
			p.RemoteAtS = r.Float64() * (p.DurationS - p.RemoteS)
			if r.IntN(4) == 0 {
				p.RemoteHz = 300 + 700*r.Float64() // pulses, as a receiver gives them
			}
		}},
		{name: "abrupt stop", given: 0.90, spoil: func(p *simulate.Params, r *rand.Rand) {
			p.StallAtS = p.DurationS * (0.3 + 0.65*r.Float64())
			p.StopTauS = 0.02 + 0.18*r.Float64()
		}},
		{name: "uneven marks", given: 0.99, spoil: func(p *simulate.Params, r *rand.Rand) {
			p.Marks = 1 + r.IntN(4)
			p.MarkAngles = make([]float64, p.Marks)
			for i := range p.MarkAngles {
				if i > 0 {
					p.MarkAngles[i] = 360 * (float64(i)/float64(p.Marks) + 0.03*(2*r.Float64()-1))
				}
			}
		}},
		{name: "a clock of 32 bits", given: 0.99, bits: 32},
		{name: "a clock of 64 bits", given: 0.99, bits: 64},
		{name: "usual", given: 0.97, spoil: func(p *simulate.Params, r *rand.Rand) {
			p.JitterUS, p.JitterPart = 20, 0.002
			p.DoubleRate, p.TrailRate, p.MissRate = 0.03*r.Float64(), 0.02*r.Float64(), 0.02*r.Float64()
			p.StrayPerS = 0.2 * r.Float64()
			p.DelayRate, p.DelayUS = 0.005*r.Float64(), 500
		}},
	}
}

// proved is one train of a condition with what was measured of it.
type proved struct {
	rpm           float64
	given, covers bool
	width, least  float64 // of the interval, and of that of the train without its faults
	off           float64 // turns
	relative      float64
	flagged       bool
	flags         []Code
	key           int
	truth         float64
	m             Measurement
}

// proveTrain draws train i of a condition and measures it.
func proveTrain(t *testing.T, c condition, i int) proved {
	key := simulate.Key(2027, "proof", c.name, strconv.Itoa(i))
	r := simulate.Source(key ^ 1)
	rpm := 60 * math.Exp(r.Float64()*math.Log(25_000.0/60))
	p := simulate.Params{
		Key: key, StartUS: 2_000_000, DurationS: 10 + 30*r.Float64(), TailS: 0.5 * float64(r.IntN(2)), ReactionS: 0.02 + 0.3*r.Float64(),
		CircumferenceMM: nominalMM, Phase: -1, RPM: rpm, TauS: 0.2 + 0.6*r.Float64(),
		SagFast: 0.05 * r.Float64(), SagPerS: 0.0005 * r.Float64(),
		Wander: 0.003 + 0.007*r.Float64(), WanderS: 0.2 + 0.8*r.Float64(),
		Ripple: 0.002 + 0.006*r.Float64(), WheelRatio: 0.8 + 0.8*r.Float64(), StepUS: 1,
	}
	if rpm < 600 {
		p.DurationS = 30 + 90*r.Float64()
	}
	if c.name != "clean" {
		p.JitterUS, p.JitterPart = 5+10*r.Float64(), 0.0005
	}
	plain := p
	if c.spoil != nil {
		c.spoil(&p, r)
	}
	train := simulate.Run(p)
	bench := Bench{CircumferenceMM: nominalMM, MarksPerTurn: max(1, p.Marks), ClockBits: 64}
	start, seconds := p.StartUS, p.DurationS
	if c.bits == 32 {
		bench.ClockBits = 32
		shift := int64(r.Uint64N(1 << 32))
		if i%2 == 0 { // near the start
			shift = 1<<32 - start - int64(2e6*r.Float64()) + 1_000_000
		}
		for k := range train.Stamps {
			train.Stamps[k] = (train.Stamps[k] + shift) & (1<<32 - 1)
		}
		start = (start + shift) & (1<<32 - 1)
	}
	if c.bits == 64 {
		shift := int64(r.Uint64N(1 << 52))
		if i%2 == 0 {
			shift = 1<<32 - start - int64(r.Float64()*1e6*seconds)
		}
		for k := range train.Stamps {
			train.Stamps[k] += shift
		}
		start += shift
	}
	setup := Setup{Bench: bench, Race: Race{StartUS: &start, DurationS: &seconds}}
	m := measured(t, setup, train.Stamps)
	plain.StallAtS, plain.StopTauS, plain.Marks, plain.MarkAngles = p.StallAtS, p.StopTauS, p.Marks, nil
	clean := simulate.Run(plain)
	least := measured(t, timed(Bench{CircumferenceMM: nominalMM, MarksPerTurn: max(1, p.Marks)}, plain), clean.Stamps)
	o := proved{rpm: rpm, truth: train.Truth.Turns, off: m.Turns - train.Truth.Turns, flags: codes(m), key: i, m: m}
	low, high, ok := interval(m)
	o.given = ok
	o.covers = ok && low <= train.Truth.DistanceM+1e-9 && train.Truth.DistanceM <= high+1e-9
	o.width = (high - low) / nominalMM * 1000
	l, h, _ := interval(least)
	o.least = (h - l) / nominalMM * 1000
	o.relative = o.off / max(1, train.Truth.Turns)
	for _, f := range o.flags {
		if f != Bridged && f != NoSlipAssumed && f != FactorApplied && f != EarlyStart {
			o.flagged = true
		}
	}
	return o
}

func interval(m Measurement) (low, high float64, ok bool) {
	return m.DistanceM - m.Distance.Half, m.DistanceM + m.Distance.Half, true
}

func median(x []float64) float64 {
	if len(x) == 0 {
		return math.NaN()
	}
	slices.Sort(x)
	return x[len(x)/2]
}

func TestProveIntervals(t *testing.T) {
	n := 300
	if os.Getenv("BENCHMEET_PROVE") != "" {
		n = 2000
	}
	only := os.Getenv("ONLY")
	for _, c := range conditions() {
		if only != "" && !strings.Contains(c.name, only) {
			continue
		}
		t.Run(c.name, func(t *testing.T) {
			out := make([]proved, n)
			inParallel(n, func(i int) { out[i] = proveTrain(t, c, i) })
			report := func(name string, pick func(o proved) bool) {
				var total, given, covers, bad, unflagged int
				var widths, leasts []float64
				for _, o := range out {
					if !pick(o) {
						continue
					}
					total++
					if o.given {
						given++
						widths, leasts = append(widths, o.width), append(leasts, o.least)
					}
					if o.covers {
						covers++
					}
					if math.Abs(o.off) > 1 {
						bad++
						if !o.flagged {
							unflagged++
						}
					}
					if os.Getenv("LIST") != "" && name == "all" && (o.given && !o.covers || math.Abs(o.off) > 1) {
						fmt.Printf("   #%d rpm %.0f truth %.2f off %.3f width %.3f start %.3f %s end %.3f %s extra %d bridged %d open %d %v\n", o.key, o.rpm, o.truth, o.off, o.width, o.m.Start.Turns, o.m.Start.How, o.m.End.Turns, o.m.End.How, o.m.Extra, o.m.Bridged, o.m.Open, o.flags)
					}
				}
				t.Logf("%-12s n %4d given %.3f covers %.3f width/least %.2f (%.3f) off>1 %d unflagged %d", name, total, float64(given)/float64(total), float64(covers)/float64(max(1, given)), median(widths)/median(leasts), median(widths), bad, unflagged)
			}
			report("all", func(proved) bool { return true })
			report("<200", func(o proved) bool { return o.rpm < 200 })
			report("200-600", func(o proved) bool { return o.rpm >= 200 && o.rpm < 600 })
			report("600-2000", func(o proved) bool { return o.rpm >= 600 && o.rpm < 2000 })
			report("2000-8000", func(o proved) bool { return o.rpm >= 2000 && o.rpm < 8000 })
			report(">8000", func(o proved) bool { return o.rpm >= 8000 })
		})
	}
}
