package standings

import (
	"math"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

func ends(low, high int64) (l, h *int64) {
	if low >= 0 {
		l = &low
	}
	if high >= 0 {
		h = &high
	}
	return l, h
}

// between is a run with the ends of its interval, of which a negative one is not known.
func between(value, low, high int64) Run {
	r := Run{Round: 1, Value: value}
	r.Low, r.High = ends(low, high)
	return r
}

func tooCloseTo(t *testing.T, better Better, rule Rule, c Closeness, of map[string][]Run) map[string][]string {
	t.Helper()
	var entries []TimedEntry
	for id, runs := range of {
		entries = append(entries, TimedEntry{ID: id, Runs: runs})
	}
	rows, err := RankTimed(entries, TimedRules{Better: better, Rule: rule, Close: &c})
	if err != nil {
		t.Fatal(err)
	}
	got := map[string][]string{}
	for _, r := range rows {
		if r.TooCloseTo != nil {
			got[r.Entry] = r.TooCloseTo
		}
	}
	return got
}

// Where intervals are lopsided, the greater of two reaches down and the lesser one up: at 95 % their difference is held
// against the root of the sum of the squares of those two sides.
func TestTooCloseWithIntervals(t *testing.T) {
	everywhere := Closeness{Confidence: 950}
	one := func(r Run) []Run { return []Run{r} }
	exact := func(value int64) []Run { return one(Run{Round: 1, Value: value, Exact: true}) }
	both := func(a, b string) map[string][]string { return map[string][]string{a: {b}, b: {a}} }
	none := map[string][]string{}
	for name, tt := range map[string]struct {
		of     map[string][]Run
		better Better
		rule   Rule
		c      Closeness
		want   map[string][]string
	}{
		"30 down and 40 up reach 50": {
			map[string][]Run{"A": one(between(1000, 970, 1000)), "B": one(between(950, 950, 990))}, More, Best, everywhere, both("A", "B"),
		},
		"and not 51": {
			map[string][]Run{"A": one(between(1001, 971, 1001)), "B": one(between(950, 950, 990))}, More, Best, everywhere, none,
		},
		"the other sides reach nothing": {
			map[string][]Run{"A": one(between(1000, 1000, 1900)), "B": one(between(950, 50, 950))}, More, Best, everywhere, none,
		},
		"of times the lesser is better, which changes nothing": {
			map[string][]Run{"A": one(between(1000, 970, 1000)), "B": one(between(950, 950, 990))}, Less, Best, everywhere, both("A", "B"),
		},
		"a lower bound is too close to all ahead, and to none far behind": {
			map[string][]Run{"A": exact(2000), "B": exact(1500), "C": one(between(1000, 990, -1)), "D": exact(900)},
			More, Best, everywhere,
			map[string][]string{"A": {"C"}, "B": {"C"}, "C": {"A", "B"}},
		},
		"nothing known is too close to both neighbours": {
			map[string][]Run{"A": exact(2000), "B": exact(1500), "C": one(Run{Round: 1, Value: 1000}), "D": exact(900), "E": exact(800)},
			More, Best, everywhere,
			map[string][]string{"B": {"C"}, "C": {"B", "D"}, "D": {"C"}},
		},
		"neighbours that share a rank are neighbours all": {
			map[string][]Run{"A": exact(2000), "B": exact(2000), "C": one(Run{Round: 1, Value: 1000})},
			More, Best, everywhere,
			map[string][]string{"A": {"C"}, "B": {"C"}, "C": {"A", "B"}},
		},
		"across the line only": {
			map[string][]Run{"A": exact(2000), "B": one(Run{Round: 1, Value: 1500}), "C": exact(1000)},
			More, Best,
			Closeness{Confidence: 950, Lines: []int{2}},
			both("B", "C"),
		},
		"equals are too close from both sides": {
			map[string][]Run{"A": exact(1000), "B": one(between(1000, 1000, -1))}, More, Best, everywhere, both("A", "B"),
		},
		"exact equals share a rank, which is no doubt": {map[string][]Run{"A": exact(1000), "B": exact(1000)}, More, Best, everywhere, none},
		"exact results are called":                     {map[string][]Run{"A": exact(1001), "B": exact(1000)}, More, Best, everywhere, none},
		"one end and u make the other side": {
			map[string][]Run{
				"A": one(Run{Round: 1, Value: 1000, U: 10}), "B": one(func() Run { r := between(980, -1, 980); r.U = 1000; return r }()),
			},
			More, Best, everywhere, none,
		},
		"a run that may be better than the best opens the best": {
			map[string][]Run{
				"A": exact(2000), "B": {{Round: 1, Value: 1500, Exact: true}, func() Run { r := between(1400, 1400, -1); r.Round = 2; return r }()},
			},
			More, Best, everywhere, both("A", "B"),
		},
		"in a mean one unknown run leaves nothing known": {
			map[string][]Run{"A": exact(2000), "B": exact(1500), "C": {{Round: 1, Value: 900, U: 1}, {Round: 2, Value: 900}}},
			More, Mean, everywhere,
			map[string][]string{"A": {"C"}, "C": {"A"}},
		},
	} {
		t.Run(name, func(t *testing.T) {
			if diff := cmp.Diff(tt.want, tooCloseTo(t, tt.better, tt.rule, tt.c, tt.of)); diff != "" {
				t.Errorf("too close (-want +got):\n%s", diff)
			}
		})
	}
}

// An interval of 1.959964 u on either side says what u says.
func TestIntervalsAndUncertaintiesAgree(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		of := func(name string) (u, ends Run) {
			value := rapid.Int64Range(5e9, 6e9).Draw(t, name)
			sd := rapid.Int64Range(1, 3e8).Draw(t, name+" u")
			half := int64(math.Round(1.959964 * float64(sd)))
			return Run{Round: 1, Value: value, U: sd}, between(value, value-half, value+half)
		}
		uA, endsA := of("A")
		uB, endsB := of("B")
		c := Closeness{Confidence: rapid.IntRange(1, 999).Draw(t, "confidence")}
		close := func(a, b Run) bool {
			rows, err := RankTimed(
				[]TimedEntry{{ID: "A", Runs: []Run{a}}, {ID: "B", Runs: []Run{b}}}, TimedRules{Better: More, Rule: Best, Close: &c},
			)
			if err != nil {
				t.Fatal(err)
			}
			return rows[0].TooCloseTo != nil
		}
		z := math.Sqrt2 * math.Erfinv(float64(c.Confidence)/1000)
		margin := math.Abs(float64(uA.Value-uB.Value)) - z*math.Hypot(float64(uA.U), float64(uB.U))
		if math.Abs(margin) < 1000 { // rounding of the ends and of the quantile
			t.Skip()
		}
		for _, got := range []bool{close(uA, uB), close(endsA, endsB), close(uA, endsB), c.TooClose(uA, uB), c.TooClose(endsB, uA)} {
			if got != (margin < 0) {
				t.Fatalf("margin %v, too close %v", margin, got)
			}
		}
	})
}

func TestIntervalsHoldTheirValue(t *testing.T) {
	for _, r := range []Run{between(100, 101, 120), between(100, 90, 99)} {
		_, err := RankTimed([]TimedEntry{{ID: "A", Runs: []Run{r}}}, TimedRules{Better: More, Rule: Best})
		if err == nil || !strings.Contains(err.Error(), "entry A has an interval in round 1 that does not hold its value") {
			t.Errorf("%d in %d to %d: %v", r.Value, *r.Low, *r.High, err)
		}
	}
}

// Two runs alone are neighbours: what is not known of one cannot be called, and what is no run is not compared.
func TestTooCloseOfTwoRuns(t *testing.T) {
	c := Closeness{Confidence: 950, Lines: []int{9}}
	exact := Run{Round: 1, Value: 2000, Exact: true}
	for name, tt := range map[string]struct {
		other Run
		want  bool
	}{
		"unknown": {Run{Value: 10}, true}, "exact": {Run{Value: 1999, Exact: true}, false}, "no run": {Run{None: true}, false},
		"a lower bound behind": {between(1000, 990, -1), true}, "a lower bound ahead": {between(3000, 2990, -1), false},
	} {
		if got := c.TooClose(exact, tt.other); got != tt.want || c.TooClose(tt.other, exact) != tt.want {
			t.Errorf("%s: %v, want %v", name, got, tt.want)
		}
	}
}
