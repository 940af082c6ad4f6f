package fairness_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"gonum.org/v1/gonum/mat"
	"pgregory.net/rapid"

	"benchmeet/domain/fairness"
	"benchmeet/domain/refusal"
)

// dumbFit solves the same least squares by QR of the whole design: a column a
// car and a column a bench but the last, whose level is less the sum of the
// others. It returns the levels, their variances over that of the noise, and the
// sum of squares that is left.
func dumbFit(t interface{ Fatal(...any) }, runs []fairness.Run, cars, benches []string) (levels, variances []float64, rest float64) {
	p, c, n := len(benches), len(cars), len(runs)
	design, right := mat.NewDense(n, c+p-1, nil), mat.NewVecDense(n, nil)
	for i, r := range runs {
		design.Set(i, slices.Index(cars, r.Car), 1)
		if b := slices.Index(benches, r.Bench); b < p-1 {
			design.Set(i, c+b, 1)
		} else {
			for b := range p - 1 {
				design.Set(i, c+b, -1)
			}
		}
		right.SetVec(i, math.Log(r.Value))
	}
	var qr mat.QR
	qr.Factorize(design)
	var x mat.VecDense
	if err := qr.SolveVecTo(&x, false, right); err != nil {
		t.Fatal(err)
	}
	var fitted mat.VecDense
	fitted.MulVec(design, &x)
	fitted.SubVec(right, &fitted)
	rest = mat.Dot(&fitted, &fitted)
	var normal, inverse mat.Dense
	normal.Mul(design.T(), design)
	if err := inverse.Inverse(&normal); err != nil {
		t.Fatal(err)
	}
	last, lastVariance := 0.0, 0.0
	for a := range p - 1 {
		levels, variances = append(levels, x.AtVec(c+a)), append(variances, inverse.At(c+a, c+a))
		last -= x.AtVec(c + a)
		for b := range p - 1 {
			lastVariance += inverse.At(c+a, c+b)
		}
	}
	return append(levels, last), append(variances, lastVariance), rest
}

// On any runs that tie the benches together, eliminating the cars gives what the
// whole system gives, whatever the order of the runs.
func TestFitAgainstWholeSystem(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p, c := rapid.IntRange(2, 5).Draw(t, "benches"), rapid.IntRange(1, 6).Draw(t, "cars")
		random := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 1))
		var runs []fairness.Run
		var cars, benches []string
		for i := range c {
			cars = append(cars, fmt.Sprint("c", i))
		}
		for b := range p {
			benches = append(benches, fmt.Sprint("b", b))
			// The first car runs everywhere, which ties all together.
			runs = append(runs, fairness.Run{Bench: benches[b], Car: cars[0]})
		}
		for range c + p + random.IntN(20) {
			runs = append(runs, fairness.Run{Bench: benches[random.IntN(p)], Car: cars[random.IntN(c)]})
		}
		for _, car := range cars {
			runs = append(runs, fairness.Run{Bench: benches[random.IntN(p)], Car: car})
		}
		for i := range runs {
			runs[i].Value = 200 * math.Exp(0.02*random.NormFloat64())
		}
		f, err := fairness.FitBenches(runs, fairness.Rounds)
		if err != nil {
			t.Fatal(err)
		}
		levels, variances, rest := dumbFit(t, runs, cars, benches)
		df := len(runs) - c - p + 1
		if f.Degrees != df || math.Abs(f.Repeatability-math.Sqrt(rest/float64(df))) > 1e-10 {
			t.Fatalf("got s %g of %d, want %g of %d", f.Repeatability, f.Degrees, math.Sqrt(rest/float64(df)), df)
		}
		for b, bench := range f.Benches {
			if math.Abs(math.Log(bench.Factor)-levels[b]) > 1e-10 || math.Abs(bench.U-f.Repeatability*math.Sqrt(variances[b])) > 1e-10 {
				t.Fatalf("bench %d: got %g ± %g, want %g ± %g", b, math.Log(bench.Factor), bench.U, levels[b], f.Repeatability*math.Sqrt(variances[b]))
			}
		}
		slices.Reverse(runs)
		again, err := fairness.FitBenches(runs, fairness.Rounds)
		if err != nil {
			t.Fatal(err)
		}
		for b := range f.Benches {
			if math.Abs(again.Benches[b].Factor-f.Benches[b].Factor) > 1e-12 || again.Benches[b].Verdict != f.Benches[b].Verdict {
				t.Fatalf("another order of runs gives another answer")
			}
		}
	})
}

// exactRuns is a meet without noise: three cars on benches with known factors,
// of which the product is 1.
func exactRuns() []fairness.Run {
	factors := map[string]float64{"b1": 1.02, "b2": 1 / 1.02, "b3": 1}
	var runs []fairness.Run
	for car, level := range map[string]float64{"A": 200, "B": 210, "C": 190} {
		for bench, factor := range factors {
			if car == "C" && bench == "b3" {
				continue
			}
			runs = append(runs, fairness.Run{Bench: bench, Car: car, Value: level * factor})
		}
	}
	return runs
}

func TestFitWithoutNoise(t *testing.T) {
	f, err := fairness.FitBenches(exactRuns(), fairness.Hours)
	if err != nil {
		t.Fatal(err)
	}
	want := map[string]struct {
		factor  float64
		verdict fairness.Verdict
		says    string
	}{
		"b1": {1.02, fairness.ReadsHigh, "Bench b1 reads 2.0 % high: for the same car it shows that much more than the middle bench."},
		"b2": {1 / 1.02, fairness.ReadsLow, "Bench b2 reads 2.0 % low: for the same car it shows that much less than the middle bench."},
		"b3": {1, fairness.Agrees, "Bench b3 agrees with the middle of the benches."},
	}
	for _, b := range f.Benches {
		near(t, b.Name, b.Factor, want[b.Name].factor, 1e-12)
		near(t, b.Name+" low", b.Low, want[b.Name].factor, 1e-12)
		near(t, b.Name+" high", b.High, want[b.Name].factor, 1e-12)
		if b.Verdict != want[b.Name].verdict || fairness.Join(b.Says) != want[b.Name].says {
			t.Errorf("%s: got %q, %q", b.Name, b.Verdict, fairness.Join(b.Says))
		}
	}
	if f.Repeatability != 0 || len(f.Suspects) != 0 {
		t.Errorf("got s %g, suspects %v", f.Repeatability, f.Suspects)
	}
	near(t, "car B", f.Level("B"), 210, 1e-9)
}

func TestFitNotConnected(t *testing.T) {
	f, err := fairness.FitBenches([]fairness.Run{
		{Bench: "b1", Car: "A", Value: 1},
		{Bench: "b2", Car: "A", Value: 1},
		{Bench: "b3", Car: "B", Value: 1},
		{Bench: "b4", Car: "C", Value: 1},
		{Bench: "b3", Car: "C", Value: 1},
		{Bench: "b5", Car: "D", Value: 1},
	}, fairness.Hours)
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff([][]string{{"b1", "b2"}, {"b3", "b4"}, {"b5"}}, f.Groups); diff != "" {
		t.Errorf("groups (-want +got)\n%s", diff)
	}
	want := "No car has run on a bench of each of these two groups: b1, b2; and b3, b4. Run one car on a bench of each. " +
		"No car has run on a bench of each of these two groups: b1, b2; and b5. Run one car on a bench of each."
	if diff := cmp.Diff(want, fairness.Join(f.Missing)); diff != "" {
		t.Errorf("missing (-want +got)\n%s", diff)
	}
	if b := f.Benches[0]; f.Connected() || !math.IsNaN(b.Factor) || b.Verdict != "" {
		t.Errorf("got %+v", b)
	}
	if _, err := f.Adopt(); err == nil {
		t.Error("factors of benches that nothing ties together can be adopted")
	}
	if _, err := f.Difference("A", "B"); err == nil {
		t.Error("cars on benches that nothing ties together can be compared")
	}
}

func TestFitTooFew(t *testing.T) {
	tests := []struct {
		name string
		runs []fairness.Run
		says string
	}{
		{
			"one bench",
			[]fairness.Run{{Bench: "b1", Car: "A", Value: 1}, {Bench: "b1", Car: "A", Value: 1.1}},
			"Bench b1 is the only one: there is nothing to compare it with.",
		},
		{
			"one run on each",
			[]fairness.Run{{Bench: "b1", Car: "A", Value: 1}, {Bench: "b2", Car: "A", Value: 1.1}},
			"There are too few runs to judge bench b1: run a car again on several benches.",
		},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			f, err := fairness.FitBenches(tt.runs, fairness.Hours)
			if err != nil {
				t.Fatal(err)
			}
			b := f.Benches[0]
			if b.Verdict != "" || fairness.Join(b.Says) != tt.says || math.IsNaN(b.Factor) {
				t.Errorf("got %+v", b)
			}
		})
	}
}

func TestFitRefuses(t *testing.T) {
	tests := []struct {
		name string
		runs []fairness.Run
		code refusal.Code
	}{
		{"nothing", nil, "study-short"},
		{"zero", []fairness.Run{{Bench: "b1", Car: "A", Value: 0}}, "study-value"},
		{"below zero", []fairness.Run{{Bench: "b1", Car: "A", Value: -1}}, "study-value"},
		{"not a number", []fairness.Run{{Bench: "b1", Car: "A", Value: math.NaN()}}, "study-value"},
		{"endless", []fairness.Run{{Bench: "b1", Car: "A", Value: math.Inf(1)}}, "study-value"},
		{"no time", []fairness.Run{{Bench: "b1", Car: "A", Value: 1, At: math.NaN()}}, "study-value"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			f, err := fairness.FitBenches(tt.runs, fairness.Hours)
			if r, is := refusal.As(err); !is || r.Code != tt.code {
				t.Errorf("got %v, %v; want %s", f, err, tt.code)
			}
		})
	}
}

// dayOf simulates a day: cars take benches in rounds, in an order drawn anew.
func dayOf(random *rand.Rand, benches, cars, rounds int, change func(r *fairness.Run, bench int)) []fairness.Run {
	var runs []fairness.Run
	for round := range rounds {
		order := random.Perm(cars)
		for i, car := range order {
			b := (i + round) % benches
			r := fairness.Run{
				Bench: fmt.Sprintf("b%02d", b+1), Car: fmt.Sprintf("c%02d", car+1), At: float64(round),
				Value: 200 * math.Exp(0.01*float64(car%5)+0.003*random.NormFloat64()),
			}
			if change != nil {
				change(&r, b)
			}
			runs = append(runs, r)
		}
	}
	return runs
}

func TestVerdicts(t *testing.T) {
	tests := []struct {
		name   string
		change func(random *rand.Rand) func(r *fairness.Run, bench int)
		third  fairness.Verdict
		says   string
	}{
		{"alike", func(*rand.Rand) func(*fairness.Run, int) { return nil }, fairness.Agrees, "Bench b03 agrees with the middle of the benches."},
		{"one high", func(*rand.Rand) func(*fairness.Run, int) {
			return func(r *fairness.Run, b int) {
				if b == 2 {
					r.Value *= 1.03
				}
			}
		}, fairness.ReadsHigh, "% high"},
		{"one low", func(*rand.Rand) func(*fairness.Run, int) {
			return func(r *fairness.Run, b int) {
				if b == 2 {
					r.Value /= 1.03
				}
			}
		}, fairness.ReadsLow, "% low"},
		{"one noisy", func(random *rand.Rand) func(*fairness.Run, int) {
			return func(r *fairness.Run, b int) {
				if b == 2 {
					r.Value *= math.Exp(0.02 * random.NormFloat64())
				}
			}
		}, fairness.Noisy, "is noisy: its results scatter"},
		{"one drifts", func(*rand.Rand) func(*fairness.Run, int) {
			return func(r *fairness.Run, b int) {
				if b == 2 {
					r.Value *= 1 + 0.004*(r.At-3.5)
				}
			}
		}, "", "From round to round it reads higher, by about 0.3"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			random := rand.New(rand.NewPCG(11, 3))
			f, err := fairness.FitBenches(dayOf(random, 5, 20, 8, tt.change(random)), fairness.Rounds)
			if err != nil {
				t.Fatal(err)
			}
			for i, b := range f.Benches {
				switch {
				case i == 2 && tt.third != "" && b.Verdict != tt.third:
					t.Errorf("got %q: %s", b.Verdict, fairness.Join(b.Says))
				case i == 2:
					contains(t, fairness.Join(b.Says), tt.says)
				case b.Verdict != fairness.Agrees:
					t.Errorf("%s is blamed too: %s", b.Name, fairness.Join(b.Says))
				}
			}
		})
	}
}

// A whole day of equal benches blames one of them in about one day of ten at
// most: 5 % for each of high or low and noisy.
func TestFalseAlarms(t *testing.T) {
	blamed, drifting, suspects := 0, 0, 0
	const days = 300
	for day := range days {
		f, err := fairness.FitBenches(dayOf(rand.New(rand.NewPCG(uint64(day), 5)), 6, 24, 4, nil), fairness.Rounds)
		if err != nil {
			t.Fatal(err)
		}
		if slices.ContainsFunc(f.Benches, func(b fairness.Bench) bool { return b.Verdict != fairness.Agrees }) {
			blamed++
		}
		if slices.ContainsFunc(f.Benches, func(b fairness.Bench) bool { return b.Drift != nil && b.Drift.Significant() }) {
			drifting++
		}
		if len(f.Suspects) > 0 {
			suspects++
		}
	}
	t.Logf("of %d days of equal benches %d blame one, %d see a drift, %d a suspect run", days, blamed, drifting, suspects)
	if blamed > days/8 || drifting > days/12 || suspects > days/10 {
		t.Errorf("too many false alarms: %d, %d, %d of %d", blamed, drifting, suspects, days)
	}
}

func TestSuspects(t *testing.T) {
	runs := dayOf(rand.New(rand.NewPCG(2, 2)), 5, 20, 4, nil)
	runs[17].Value *= 0.93
	f, err := fairness.FitBenches(runs, fairness.Rounds)
	if err != nil {
		t.Fatal(err)
	}
	if len(f.Suspects) != 1 || f.Suspects[0].Run != 17 || f.Suspects[0].T > -5 {
		t.Fatalf("got %+v", f.Suspects)
	}
	near(t, "off", f.Suspects[0].Off, -0.07, 0.015)
}

// Whatever positive numbers come, of whatever size, a figure is a number or
// plainly none, and a bound never lies on the wrong side of its factor.
func TestFitNeverGoesWild(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 25).Draw(t, "runs")
		value := rapid.OneOf(
			rapid.Float64Range(1e-300, 1e300), rapid.SampledFrom([]float64{1, 1, 2, math.SmallestNonzeroFloat64, math.MaxFloat64}),
		)
		var runs []fairness.Run
		for range n {
			runs = append(runs, fairness.Run{
				Bench: rapid.SampledFrom([]string{"b1", "b2", "b3"}).Draw(t, "bench"), Car: rapid.SampledFrom([]string{"A", "B"}).Draw(t, "car"),
				Value: value.Draw(t, "value"), At: float64(rapid.IntRange(0, 3).Draw(t, "at")),
			})
		}
		f, err := fairness.FitBenches(runs, fairness.Hours)
		if err != nil {
			t.Fatal(err)
		}
		for _, b := range f.Benches {
			if math.IsNaN(b.Factor) == f.Connected() || b.Low > b.Factor || b.High < b.Factor || b.U < 0 {
				t.Fatalf("connected %v: %+v", f.Connected(), b)
			}
			if (b.Verdict != "") != (f.Connected() && f.Degrees > 0 && len(f.Benches) > 1) || len(b.Says) == 0 {
				t.Fatalf("verdict %q, says %v", b.Verdict, b.Says)
			}
		}
	})
}

// A bench that reads lower with every hour is told so, in hours.
func TestDriftByTheHour(t *testing.T) {
	runs := dayOf(rand.New(rand.NewPCG(8, 8)), 4, 16, 8, func(r *fairness.Run, b int) {
		if b == 0 {
			r.Value *= 1 - 0.005*(r.At-3.5)
		}
	})
	f, err := fairness.FitBenches(runs, fairness.Hours)
	if err != nil {
		t.Fatal(err)
	}
	contains(t, fairness.Join(f.Benches[0].Says), "Over the day it reads lower and lower, by about 0.")
	if d := f.Benches[0].Drift; d.Slope > -0.002 || d.Slope < -0.007 {
		t.Errorf("got %+v", d)
	}
	if diff := cmp.Diff("c01 c16", f.CarNames()[0]+" "+f.CarNames()[15]); diff != "" {
		t.Errorf("cars (-want +got)\n%s", diff)
	}
}
