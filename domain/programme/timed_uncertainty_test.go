package programme

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

func TestTimedU(t *testing.T) {
	run := func(um, u int64) TimedRun { return TimedRun{DistanceUM: um, UUM: u, Valued: true} }
	three := []TimedRun{run(300, 3), run(500, 4), run(400, 12)}
	tests := []struct {
		name string
		rule timedRule
		runs []TimedRun
		want int64
	}{
		{"best takes its own", ruleBest, three, 4},
		{"the earlier of two best", ruleBest, []TimedRun{run(500, 4), run(500, 9)}, 4},
		{"sum", ruleSum, three, 13},                                             // 3 4 12 13, a Pythagorean quadruple
		{"mean", ruleMean, three, 4},                                            // 13/3 = 4.33
		{"a half is rounded up", ruleMean, []TimedRun{run(1, 3), run(1, 4)}, 3}, // 5/2
		{"median of three", ruleMedian, three, 12},                              // of the middle run
		{"median of two", ruleMedian, []TimedRun{run(1, 30), run(2, 40)}, 25},   // 50/2
		{"a run that does not rank is left out", ruleSum, append(three, TimedRun{UUM: 99}), 13},
		{"no run", ruleMean, nil, 0},
		{"of one run nothing is known", ruleSum, append([]TimedRun{run(3, 0)}, three...), 0},
		{"of a run that does not count nothing is known", ruleBest, []TimedRun{run(500, 4), run(400, 0)}, 4},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			if got := timedU(test.rule, test.runs); got != test.want {
				t.Errorf("got %d, want %d", got, test.want)
			}
		})
	}
}

// TestTimedUAgainstFloats: within rounding the same as the formula in floats, for
// the largest figures too.
func TestTimedUAgainstFloats(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		us := rapid.SliceOfN(rapid.Int64Range(1, 1_000_000_000_000), 1, 50).Draw(t, "u")
		var runs []TimedRun
		sum := 0.0
		for _, u := range us {
			runs = append(runs, TimedRun{UUM: u, Valued: true})
			sum += float64(u) * float64(u)
		}
		for rule, want := range map[timedRule]float64{ruleSum: math.Sqrt(sum), ruleMean: math.Sqrt(sum) / float64(len(us))} {
			if got := timedU(rule, runs); math.Abs(float64(got)-want) > 0.51+want*1e-14 {
				t.Fatalf("%s: got %d, want %f", rule, got, want)
			}
		}
	})
}
