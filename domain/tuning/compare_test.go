package tuning_test

import (
	"errors"
	"math"
	"testing"

	"pgregory.net/rapid"

	"benchmeet/domain/tuning"
)

// runsOf writes runs as a string of states, a space between fittings: "A A|B B".
func runsOf(states string, values ...float64) []tuning.Run {
	var list []tuning.Run
	fitting := 0
	for _, c := range states {
		if c == '|' {
			fitting++
			continue
		}
		n := len(list)
		list = append(list, tuning.Run{Value: values[n], Changed: c == 'B', Fitting: fitting, At: float64(n)})
	}
	return list
}

// TestTenRuns: five runs before and five after one change of a gear that went from about
// 119 m to 121 m with a scatter of 0.18 m. Fitted once, the change cannot be told from a
// drift of the afternoon as well as an alternating order tells it, and the answer says
// both; run in turns the same numbers say "quicker".
func TestTenRuns(t *testing.T) {
	a := []float64{119.14, 119.30, 118.98, 119.21, 119.07}
	b := []float64{121.13, 120.95, 121.30, 121.06, 121.21}
	once, err := tuning.Compare(runsOf("AAAAA|BBBBB", append(append([]float64(nil), a...), b...)...), 10, tuning.Scatter{})
	if err != nil {
		t.Fatal(err)
	}
	if !once.AsFitted || once.Fittings != 10 || once.Efficiency > 0.5 {
		t.Errorf("five and five of one fitting each: %+v", once)
	}
	turns, err := tuning.Compare(runsOf("A|B|B|A|B|A|A|B|B|A",
		a[0], b[0], b[1], a[1], b[2], a[2], a[3], b[3], b[4], a[4]), 10, tuning.Scatter{})
	if err != nil {
		t.Fatal(err)
	}
	if turns.Verdict != tuning.Quicker || turns.AsFitted || math.Abs(turns.Change-0.0166) > 0.001 || turns.Low < 0.014 || turns.High > 0.019 {
		t.Errorf("in turns: %+v", turns)
	}
}

func TestWhatCannotBeTold(t *testing.T) {
	for _, tt := range []struct {
		what, states string
		values       []float64
		want         tuning.Verdict
	}{
		{"one run of each", "A|B", []float64{120, 122}, tuning.CannotTell},
		{"two and one", "A|B|A", []float64{120, 122, 120}, tuning.CannotTell},
		{"four, nothing in between", "A|B|B|A", []float64{120, 122, 122.4, 120.1}, tuning.NotYet},
	} {
		a, err := tuning.Compare(runsOf(tt.states, tt.values...), 8, tuning.Scatter{})
		if err != nil || a.Verdict != tt.want {
			t.Errorf("%s: %+v, %v", tt.what, a, err)
		}
		if a.Left != 8-a.Fittings {
			t.Errorf("%s: %d are left of 8 after %d", tt.what, a.Left, a.Fittings)
		}
	}
	if _, err := tuning.Compare(runsOf("AAA", 1, 2, 3), 8, tuning.Scatter{}); !errors.Is(err, tuning.ErrOneState) {
		t.Errorf("one state only: %v", err)
	}
	for _, v := range []float64{0, -1, math.NaN(), math.Inf(1)} {
		if _, err := tuning.Compare(runsOf("AB", 1, v), 8, tuning.Scatter{}); !errors.Is(err, tuning.ErrValue) {
			t.Errorf("a run of %v: %v", v, err)
		}
	}
}

// TestNoChangeIsNoChange: exactly equal runs have no scatter and no difference.
func TestNoChangeIsNoChange(t *testing.T) {
	a, err := tuning.Compare(runsOf("A|B|B|A|B|A|A|B", 100, 100, 100, 100, 100, 100, 100, 100), 8, tuning.Scatter{})
	if err != nil || math.Abs(a.Change) > 1e-12 || a.High-a.Low > 1e-12 {
		t.Errorf("%+v, %v", a, err)
	}
}

// TestBenchFallsOut: a bench that reads everything too high by one factor, and the two
// states called the other way round, change nothing but the sign.
func TestBenchFallsOut(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		runs := rapid.SliceOfN(rapid.Custom(func(t *rapid.T) tuning.Run {
			return tuning.Run{
				Value:   rapid.Float64Range(80, 160).Draw(t, "metres"),
				Changed: rapid.Bool().Draw(t, "changed"),
				Fitting: rapid.IntRange(0, 3).Draw(t, "fitting"),
			}
		}), 2, 20).Draw(t, "runs")
		factor := rapid.Float64Range(0.9, 1.1).Draw(t, "factor")
		scaled, turned := make([]tuning.Run, len(runs)), make([]tuning.Run, len(runs))
		for i := range runs {
			runs[i].At = float64(i)
			scaled[i], turned[i] = runs[i], runs[i]
			scaled[i].Value *= factor
			turned[i].Changed = !runs[i].Changed
		}
		a, err := tuning.Compare(runs, 8, tuning.Scatter{})
		b, errScaled := tuning.Compare(scaled, 8, tuning.Scatter{})
		c, errTurned := tuning.Compare(turned, 8, tuning.Scatter{})
		if !errors.Is(errScaled, err) || !errors.Is(errTurned, err) {
			t.Fatalf("%v, %v, %v", err, errScaled, errTurned)
		}
		if a.Verdict == tuning.CannotTell || err != nil {
			return
		}
		// An end just above -1 keeps of its logarithm what the last bit of a number near 1
		// lets through: 2^-52 times e^|x|.
		same := func(what string, x, y float64) {
			x, y = math.Log1p(x), math.Log1p(y)
			if math.Abs(x-y) > 1e-6*(1+math.Abs(x))+0x1p-52*math.Exp(math.Abs(x)) && !math.IsInf(x, 0) && !math.IsInf(y, 0) {
				t.Fatalf("%s: %g and %g", what, x, y)
			}
		}
		same("the lower end on another bench", a.Low, b.Low)
		same("the upper end on another bench", a.High, b.High)
		same("the lower end the other way round", 1/(1+a.High)-1, c.Low)
		same("the upper end the other way round", 1/(1+a.Low)-1, c.High)
	})
}

// TestNeeded: with a scatter of 0.3 % a change of 1 % needs the fewest that lose a curved
// drift; a smaller one more, until no afternoon is long enough.
func TestNeeded(t *testing.T) {
	last := 0
	for _, change := range []float64{0.02, 0.01, 0.005, 0.003} {
		n, can := tuning.Needed(change, 0.003)
		if !can || n < last || n%2 != 0 {
			t.Errorf("a change of %g needs %d, %v", change, n, can)
		}
		last = n
	}
	if n, _ := tuning.Needed(0.01, 0.003); n != 8 {
		t.Errorf("a change of 1 %% needs %d fittings", n)
	}
	if _, can := tuning.Needed(0.0005, 0.003); can {
		t.Error("a change of a twentieth of a per cent is said to be seen")
	}
	for _, no := range [][2]float64{{0, 1}, {1, 0}, {math.NaN(), 1}} {
		if _, can := tuning.Needed(no[0], no[1]); can {
			t.Errorf("%v can be planned", no)
		}
	}
}

// TestLevelsStayUnderFivePercent, however many looks there are.
func TestLevelsStayUnderFivePercent(t *testing.T) {
	sum := 0.0
	for left := range 60 {
		sum += tuning.Level(left)
	}
	if sum > 0.05 || tuning.Level(0) < 0.04 {
		t.Errorf("all looks spend %g, the last %g", sum, tuning.Level(0))
	}
}

func BenchmarkCompare(b *testing.B) {
	runs := runsOf("A|B|B|A|B|A|A|B", 120, 121, 122, 119, 122, 120, 119, 121)
	for b.Loop() {
		if _, err := tuning.Compare(runs, 8, tuning.Scatter{}); err != nil {
			b.Fatal(err)
		}
	}
}
