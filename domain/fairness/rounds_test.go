package fairness_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"gonum.org/v1/gonum/mat"
	"pgregory.net/rapid"

	"benchmeet/domain/fairness"
)

// wholeSystem is ln(value) = car + bench + round + noise with a column each, by the singular values of the whole design:
// what the least squares fix, and nothing of the order in which the fit eliminates.
type wholeSystem struct {
	columns []string
	values  []float64  // least squares of least norm
	inverse *mat.Dense // pseudo-inverse of the normal equations
	rest    float64
	rank    int
	open    *mat.Dense // columns span what the design leaves open
}

func newWholeSystem(t interface{ Fatal(...any) }, runs []fairness.Run) wholeSystem {
	var w wholeSystem
	at := func(name string) int {
		if i := slices.Index(w.columns, name); i >= 0 {
			return i
		}
		w.columns = append(w.columns, name)
		return len(w.columns) - 1
	}
	for _, r := range runs {
		at("car " + r.Car)
		at("bench " + r.Bench)
		at("round " + r.Round)
	}
	n, k := len(runs), len(w.columns)
	design, right := mat.NewDense(max(n, k), k, nil), mat.NewVecDense(max(n, k), nil) // rows of zeros change nothing
	for i, r := range runs {
		for _, name := range []string{"car " + r.Car, "bench " + r.Bench, "round " + r.Round} {
			design.Set(i, at(name), 1)
		}
		right.SetVec(i, math.Log(r.Value))
	}
	var svd mat.SVD
	if !svd.Factorize(design, mat.SVDFull) {
		t.Fatal("no singular values")
	}
	w.rank = svd.Rank(1e-9)
	var x mat.Dense
	svd.SolveTo(&x, right, w.rank)
	w.values = mat.Col(nil, 0, &x)
	var fitted mat.VecDense
	fitted.MulVec(design, mat.NewVecDense(k, w.values))
	fitted.SubVec(right, &fitted)
	w.rest = mat.Dot(&fitted, &fitted)
	var v mat.Dense
	svd.VTo(&v)
	s := svd.Values(nil)
	w.inverse, w.open = mat.NewDense(k, k, nil), mat.NewDense(k, max(1, k-w.rank), nil)
	for i := range k {
		for j := range k {
			sum := 0.0
			for c := range w.rank {
				sum += v.At(i, c) * v.At(j, c) / s[c] / s[c]
			}
			w.inverse.Set(i, j, sum)
		}
		for c := w.rank; c < k; c++ {
			w.open.Set(i, c-w.rank, v.At(i, c))
		}
	}
	return w
}

// difference is that of two columns, its variance over that of the noise, and whether the design fixes it.
func (w wholeSystem) difference(a, b string) (value, variance float64, fixed bool) {
	i, j := slices.Index(w.columns, a), slices.Index(w.columns, b)
	fixed = true
	for c := range w.open.RawMatrix().Cols {
		fixed = fixed && math.Abs(w.open.At(i, c)-w.open.At(j, c)) < 1e-8
	}
	return w.values[i] - w.values[j], w.inverse.At(i, i) + w.inverse.At(j, j) - 2*w.inverse.At(i, j), fixed
}

// On any runs in any rounds the fit gives what the whole system gives, and gives nothing where that leaves benches open.
func TestFitWithRoundsAgainstWholeSystem(t *testing.T) {
	told, open := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		random := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 2))
		p, c, rounds := 2+random.IntN(4), 1+random.IntN(7), 2+random.IntN(4)
		loose := random.IntN(3) // how freely benches go with rounds
		var runs []fairness.Run
		for i := range p + c + random.IntN(25) {
			r := fairness.Run{Car: fmt.Sprint("c", random.IntN(c)), Value: 200 * math.Exp(0.02*random.NormFloat64())}
			round := random.IntN(rounds)
			b := (round + random.IntN(1+loose)) % p
			if i < p {
				b, r.Car = i, "c0" // who ties all benches together, each in its own round
				round = i % rounds
			}
			r.Bench, r.Round, r.At = fmt.Sprint("b", b), fmt.Sprint("r", round), float64(round)
			runs = append(runs, r)
		}
		f, err := fairness.FitBenches(runs, fairness.Rounds)
		if err != nil {
			t.Fatal(err)
		}
		w := newWholeSystem(t, runs)
		var want [][]string
		for _, b := range f.Benches {
			at := slices.IndexFunc(want, func(group []string) bool {
				_, _, fixed := w.difference("bench "+group[0], "bench "+b.Name)
				return fixed
			})
			if at < 0 {
				want = append(want, []string{b.Name})
			} else {
				want[at] = append(want[at], b.Name)
			}
		}
		if diff := cmp.Diff(want, f.Groups); diff != "" {
			t.Fatalf("benches that can be compared (-want +got):\n%s\n%v", diff, runs)
		}
		if !f.Connected() {
			open++
			if len(f.Missing) != len(want)-1 || !math.IsNaN(f.Benches[0].Factor) || f.Benches[0].Verdict != "" || len(f.Rounds) > 0 {
				t.Fatalf("no factors can be known, got %+v", f.Benches[0])
			}
			return
		}
		told++
		if f.Degrees != len(runs)-w.rank {
			t.Fatalf("%d degrees of freedom, want %d", f.Degrees, len(runs)-w.rank)
		}
		s := 0.0
		if f.Degrees > 0 {
			s = math.Sqrt(w.rest / float64(f.Degrees))
			if math.Abs(f.Repeatability-s) > 1e-9 {
				t.Fatalf("repeatability %g, want %g", f.Repeatability, s)
			}
		}
		product := 0.0
		for _, b := range f.Benches {
			product += math.Log(b.Factor)
			value, _, _ := w.difference("bench "+b.Name, "bench "+f.Benches[0].Name)
			if got := math.Log(b.Factor / f.Benches[0].Factor); math.Abs(got-value) > 1e-9 {
				t.Fatalf("bench %s over the first: %g, want %g", b.Name, got, value)
			}
		}
		if math.Abs(product) > 1e-9 {
			t.Fatalf("the factors have the geometric mean %g", math.Exp(product))
		}
		for _, r := range f.Rounds {
			if value, _, fixed := w.difference(
				"round "+r.Name, "round "+f.Rounds[0].Name,
			); fixed && math.Abs(math.Log(r.Level/f.Rounds[0].Level)-value) > 1e-9 {
				t.Fatalf("round %s over the first: %g, want %g", r.Name, math.Log(r.Level/f.Rounds[0].Level), value)
			}
		}
		if f.Degrees <= 0 {
			return
		}
		mean := 0.0 // of the variance of a difference of benches: what the stated uncertainties of factors add up to
		for i, a := range f.Benches {
			for _, b := range f.Benches[:i] {
				_, variance, _ := w.difference("bench "+a.Name, "bench "+b.Name)
				mean += variance
			}
		}
		ours := 0.0
		for _, b := range f.Benches {
			ours += b.U * b.U
		}
		if want := s * s * mean / float64(p); len(f.Benches) == p && math.Abs(ours-want) > 1e-9*(1+want) {
			t.Fatalf("the variances of the factors sum to %g, want %g", ours, want)
		}
		cars := f.CarNames()
		for _, car := range cars[1:] {
			value, variance, fixed := w.difference("car "+car, "car "+cars[0])
			d, err := f.Difference(car, cars[0])
			if fixed != (err == nil) {
				t.Fatalf("cars %s and %s: %v, known: %v", car, cars[0], err, fixed)
			}
			if fixed && (math.Abs(d.Value-value) > 1e-9 || math.Abs(d.U-s*math.Sqrt(math.Max(0, variance))) > 1e-7) {
				t.Fatalf("cars %s and %s: %+v, want %g ± %g", car, cars[0], d, value, s*math.Sqrt(variance))
			}
		}
	})
	if told < 20 || open < 10 {
		t.Errorf("%d days could be compared and %d not: the test asks too little", told, open)
	}
}

// Where cars change benches from round to round all in one order, no arithmetic can tell a bench from its round: the fit
// gives no factor and says what to do. Where only a part of the benches goes with its rounds, it names that part.
func TestBenchesThatGoWithTheirRounds(t *testing.T) {
	run := func(bench, car, round string) fairness.Run {
		return fairness.Run{Bench: bench, Car: car, Round: round, Value: 200}
	}
	runs := []fairness.Run{
		run("b1", "A", "1"), run("b2", "A", "2"), run("b1", "B", "1"), run("b2", "B", "2"), run("b1", "C", "1"), run("b2", "C", "2"),
	}
	part := append(slices.Clone(runs), run("b3", "D", "1"), run("b1", "D", "1"), run("b3", "A", "1"))
	for _, tt := range []struct {
		runs   []fairness.Run
		groups [][]string
		says   string
	}{
		{
			runs,
			[][]string{{"b1"}, {"b2"}},
			"What these two groups of benches read cannot be told from what all cars did from round to round: b1; and b2. Let cars change between them within the same rounds, some one way and some the other.",
		},
		{
			part,
			[][]string{{"b1", "b3"}, {"b2"}},
			"What these two groups of benches read cannot be told from what all cars did from round to round: b1, b3; and b2. Let cars change between them within the same rounds, some one way and some the other.",
		},
	} {
		f, err := fairness.FitBenches(tt.runs, fairness.Rounds)
		if err != nil {
			t.Fatal(err)
		}
		if diff := cmp.Diff(tt.groups, f.Groups); diff != "" || fairness.Join(f.Missing) != tt.says {
			t.Errorf("groups (-want +got):\n%s%s", diff, fairness.Join(f.Missing))
		}
		if _, err := f.Adopt(); err == nil || !math.IsNaN(f.Benches[0].Factor) {
			t.Error("a factor that is one with its round can be adopted")
		}
	}
}

// Forty cars lose 1.5 % from run to run and meet ten benches in random order. Dividing by the fitted factors gives at
// most 1.1 times as many wrong podiums as dividing by the true ones, which nobody has, and the intervals of the factors
// cover the truth in 93 to 97 %.
func TestProveFadingCarsDoNotSpoilTheBenches(t *testing.T) {
	meets := uint64(4000)
	if os.Getenv("BENCHMEET_PROVE") != "" {
		meets = 20_000
	}
	h := hall{benches: 10, cars: 40, runs: 3, benchSpread: 0.01, carSpread: 0.02, repeat: 0.003, fade: 0.015}
	var before, after, ideal, in, all int
	slope := 0.0
	for seed := range meets {
		m := h.hold(seed)
		f, err := fairness.FitBenches(m.runs, fairness.Rounds)
		if err != nil {
			t.Fatal(err)
		}
		truth := slices.Sorted(slices.Values(podium(m.cars)))
		for _, c := range []struct {
			wrong  *int
			factor func(b int) float64
		}{
			{&before, func(int) float64 { return 1 }},
			{&after, func(b int) float64 { return f.Benches[b].Factor }},
			{&ideal, func(b int) float64 { return m.factors[b] }},
		} {
			if !slices.Equal(slices.Sorted(slices.Values(podium(h.results(m, c.factor)))), truth) {
				*c.wrong++
			}
		}
		for b, bench := range f.Benches {
			all++
			if bench.Low <= m.factors[b] && m.factors[b] <= bench.High {
				in++
			}
		}
		slope += math.Log(f.Rounds[2].Level/f.Rounds[0].Level) / 2 / float64(meets)
	}
	cover := 100 * float64(in) / float64(all)
	t.Logf(
		"wrong podiums of %d: %d before, %d after, %d with the true factors; %.1f %% of %d intervals cover; %.2f %% a round", meets, before,
		after, ideal, cover, all, 100*slope,
	)
	if float64(after) > 1.1*float64(ideal) || after >= before {
		t.Errorf("%d wrong podiums after correcting, %d with the true factors", after, ideal)
	}
	near(t, "cover, per cent", cover, 95, 2)
	near(t, "what cars lose a round, per cent", 100*slope, -1.5, 0.05)
}
