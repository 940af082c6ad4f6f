package standings

import (
	"fmt"
	"math/big"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

// plainly is the rule of Closeness in its own words, each entry against each: rows is a table of the rule Best or
// Mean where more is better.
func plainly(rows []Standing, of map[string][]Run, rule Rule, c Closeness) map[string][]string {
	z := big.NewRat(c.Quantile(), 1e6)
	z95 := big.NewRat((&Closeness{Confidence: 950}).Quantile(), 1e6)
	square := func(x *big.Rat) *big.Rat { return new(big.Rat).Mul(x, x) }
	// variance of one side of a run; nil is open.
	side := func(r Run, end *int64) *big.Rat {
		switch {
		case end != nil:
			return square(new(big.Rat).Quo(big.NewRat(max(*end-r.Value, r.Value-*end), 1), z95))
		case r.U > 0 || r.Exact:
			return square(big.NewRat(r.U, 1))
		}
		return nil
	}
	type figure struct{ value, below, above *big.Rat }
	figureOf := func(runs []Run) figure {
		var ran []Run
		for _, r := range runs {
			if !r.None {
				ran = append(ran, r)
			}
		}
		slices.SortStableFunc(ran, func(a, b Run) int { return int(b.Value - a.Value) })
		used := ran
		if rule == Best {
			used = ran[:1]
		}
		f := figure{new(big.Rat), new(big.Rat), new(big.Rat)}
		n := big.NewRat(1, int64(len(used)))
		for _, r := range used {
			f.value.Add(f.value, new(big.Rat).Mul(n, big.NewRat(r.Value, 1)))
			for _, s := range []struct{ sum, of **big.Rat }{{&f.below, ptr(side(r, r.Low))}, {&f.above, ptr(side(r, r.High))}} {
				if *s.sum == nil || *s.of == nil {
					*s.sum = nil
					continue
				}
				(*s.sum).Add(*s.sum, new(big.Rat).Mul(square(n), *s.of))
			}
		}
		if rule == Best {
			for _, r := range ran {
				if below, above := side(r, r.Low), side(r, r.High); above == nil && below != nil {
					f.above = nil
				}
			}
		}
		return f
	}
	between := func(i, j int) bool {
		for _, line := range c.Lines {
			if min(i, j) < line && line <= max(i, j) {
				return true
			}
		}
		return len(c.Lines) == 0
	}
	// ranksApart counts the different ranks from one row to another.
	ranksApart := func(i, j int) int {
		n := 0
		for k := min(i, j) + 1; k <= max(i, j); k++ {
			if rows[k].Rank != rows[k-1].Rank && rows[k].Rank > 0 && !rows[k].None {
				n++
			}
		}
		return n
	}
	got := map[string][]string{}
	for i, a := range rows {
		for j, b := range rows {
			if i == j || a.Rank == 0 || b.Rank == 0 || a.None || b.None || !between(i, j) {
				continue
			}
			fa, fb := figureOf(of[a.Entry]), figureOf(of[b.Entry])
			near := false
			switch exact := func(f figure) bool {
				return f.below != nil && f.above != nil && f.below.Sign() == 0 && f.above.Sign() == 0
			}; {
			case fa.below == nil && fa.above == nil || fb.below == nil && fb.above == nil:
				near = ranksApart(i, j) < 2
			case exact(fa) && exact(fb):
			case fa.value.Cmp(fb.value) == 0:
				near = true
			default:
				if fa.value.Cmp(fb.value) < 0 {
					fa, fb = fb, fa
				}
				near = fa.below == nil || fb.above == nil ||
					square(new(big.Rat).Sub(fa.value, fb.value)).Cmp(new(big.Rat).Mul(square(z), new(big.Rat).Add(fa.below, fb.above))) <= 0
			}
			if near {
				got[a.Entry] = append(got[a.Entry], b.Entry)
			}
		}
	}
	return got
}

func ptr[T any](v T) *T { return &v }

// TestTooCloseIsTheRule: what is found without looking at each pair is what looking at each pair gives, in its order,
// for intervals of all kinds, also where a difference is the limit to the unit.
func TestTooCloseIsTheRule(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		rule := rapid.SampledFrom([]Rule{Best, Mean}).Draw(t, "rule")
		c := Closeness{Confidence: rapid.SampledFrom([]int{500, 950, 999}).Draw(t, "confidence")}
		if rapid.Bool().Draw(t, "with lines") {
			c.Lines = rapid.SliceOfN(rapid.IntRange(1, 14), 1, 3).Draw(t, "lines")
		}
		scale := rapid.SampledFrom([]int64{1, 1000, 1 << 50}).Draw(t, "scale") // unsure floats too
		of := map[string][]Run{}
		var entries []TimedEntry
		for i := range rapid.IntRange(0, 14).Draw(t, "entries") {
			var runs []Run
			for round := range rapid.IntRange(0, 3).Draw(t, "runs") {
				r := Run{Round: round + 1, Value: scale + rapid.Int64Range(0, 40).Draw(t, "value")*max(1, scale/1000)}
				width := rapid.SampledFrom([]int64{0, 1, 3, 10, 1000}).Draw(t, "width") * max(1, scale/1000)
				switch rapid.IntRange(0, 5).Draw(t, "kind") {
				case 0:
					r.Exact = true
				case 1: // nothing known
				case 2:
					r.Low = ptr(r.Value - width)
				case 3:
					r.High = ptr(r.Value + width)
				case 4:
					r.Low, r.High = ptr(r.Value-width), ptr(r.Value+2*width)
				default:
					r.U = width
				}
				runs = append(runs, r)
			}
			e := TimedEntry{ID: fmt.Sprintf("E%02d", i), Runs: runs}
			e.Status = rapid.SampledFrom([]Status{"", "", "", DidNotFinish, Disqualified, Withdrawn}).Draw(t, "status")
			of[e.ID], entries = runs, append(entries, e)
		}
		rows, err := RankTimed(entries, TimedRules{Better: More, Rule: rule, Close: &c})
		if err != nil {
			t.Fatal(err)
		}
		got := map[string][]string{}
		for _, r := range rows {
			if r.TooCloseTo != nil {
				got[r.Entry] = r.TooCloseTo
			}
		}
		if diff := cmp.Diff(plainly(rows, of, rule, c), got); diff != "" {
			t.Fatalf("too close (-want +got):\n%s", diff)
		}
	})
}

// TestAtTheLimitItself: a difference of 3·4·5 where the quantile and both uncertainties are whole: the limit counts as
// too close, and a unit further does not, with sums that floats do not hold.
func TestAtTheLimitItself(t *testing.T) {
	for _, base := range []int64{0, 1 << 52} {
		c := Closeness{Confidence: 950} // quantile 1.959964: with u 3 and 4 million the limit is 9,799,820
		for by, want := range map[int64]bool{9_799_820: true, 9_799_821: false} {
			rows, err := RankTimed([]TimedEntry{
				{ID: "A", Runs: []Run{{Round: 1, Value: base + by, U: 3_000_000}}}, {ID: "B", Runs: []Run{{Round: 1, Value: base, U: 4_000_000}}},
			}, TimedRules{Better: More, Rule: Best, Close: &c})
			if err != nil || (rows[0].TooCloseTo != nil) != want {
				t.Errorf("%d apart at %d: %v, %v", by, base, rows[0].TooCloseTo, err)
			}
		}
	}
}

// field is one of n entries, a metre apart, with u of so many metres; the last is a car of which next to nothing is
// known, which reaches over all of them.
func field(n int, u float64) ([]Standing, map[string]*timed) {
	rng := rand.New(rand.NewPCG(1, 2))
	of := map[string]*timed{}
	var entries []TimedEntry
	rules := TimedRules{Better: More, Rule: Best}
	for i := range n {
		r := Run{Round: 1, Value: int64(n-i)*1_000_000 + rng.Int64N(1000), U: int64(u * 1e6)}
		if i == n-1 {
			r.U = int64(n) * 1_000_000
		}
		e := TimedEntry{ID: fmt.Sprintf("E%05d", i), Runs: []Run{r}}
		one := newTimed(e, rules)
		of[e.ID], entries = &one, append(entries, e)
	}
	rows, err := RankTimed(entries, rules)
	if err != nil {
		panic(err)
	}
	return rows, of
}

// TestMarkingAsksForWhatItFinds: the pairs that are compared grow as the field and what is found in it, not as the
// field's square, also where one interval is as wide as the field.
func TestMarkingAsksForWhatItFinds(t *testing.T) {
	for _, n := range []int{100, 400, 1600} {
		for _, lines := range [][]int{nil, {1, 2, 3}} {
			rows, of := field(n, 0.5)
			m := (&Closeness{Confidence: 950, Lines: lines}).mark(rows, of, Best)
			found := 0
			for _, r := range rows {
				found += len(r.TooCloseTo)
			}
			if most := 4 * (n + found); m.asked > most || found == 0 {
				t.Errorf("%d entries, lines %v: %d pairs compared for %d found", n, lines, m.asked, found)
			}
		}
	}
}

// BenchmarkMark is the marking of a field that is close in places; x-small is the time for each entry as a multiple
// of that in a field of 24.
func BenchmarkMark(b *testing.B) {
	small := 0.0
	for _, n := range []int{24, 400} {
		b.Run(fmt.Sprint("entries=", n), func(b *testing.B) {
			rows, of := field(n, 0.5)
			c := Closeness{Confidence: 950, Lines: []int{1, 2, 3}}
			for b.Loop() {
				for i := range rows {
					rows[i].TooCloseTo = nil
				}
				c.mark(rows, of, Best)
			}
			each := b.Elapsed().Seconds() / float64(b.N) / float64(n)
			if small == 0 {
				small = each
			}
			b.ReportMetric(each/small, "x-small")
		})
	}
}
