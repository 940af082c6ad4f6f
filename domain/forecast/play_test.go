package forecast_test

import (
	"errors"
	"math"
	"reflect"
	"strings"
	"testing"

	"benchmeet/domain/forecast"
)

// exact is a day without chance in its times: ten benches, 60 s of racing and 90 s of
// change-over.
func exact(divisions ...forecast.Division) forecast.Day {
	return forecast.Day{Closes: 28_800, Benches: 10, ChangeOver: 90, Divisions: divisions}
}

func division(id string, entries int, stages ...forecast.Stage) forecast.Division {
	for i := range stages {
		stages[i].Race = 60
	}
	return forecast.Division{ID: id, Entries: entries, CarSD: 0.04, RunSD: 0.008, Stages: stages}
}

func play(t *testing.T, d forecast.Day, samples int) forecast.Report {
	t.Helper()
	r, err := forecast.Play(d, samples, 1)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

func timed(rounds int) forecast.Stage {
	return forecast.Stage{Kind: forecast.TimedRounds, Rounds: rounds}
}

// TestReckonedByHand: days whose end follows from counting waves of 150 s.
func TestReckonedByHand(t *testing.T) {
	knockout := forecast.Stage{Kind: forecast.Knockout}
	narrow := func(d forecast.Day, benches int) forecast.Day { d.Benches = benches; return d }
	waits := func(d forecast.Day, wait, rest float64) forecast.Day { d.Wait, d.Rest = wait, rest; return d }
	for _, tt := range []struct {
		what string
		day  forecast.Day
		want float64
	}{
		{"40 cars, three rounds of four full heats", exact(division("J", 40, timed(3))), 12 * 150},
		{"42 cars need five heats a round", exact(division("J", 42, timed(3))), 15 * 150},
		// Eight heats of two on ten benches are two waves; then 4, 2 and 1 at once.
		{"a knockout of 16", exact(division("J", 16, knockout)), 5 * 150},
		{"protest time between its rounds", waits(exact(division("J", 16, knockout)), 600, 0), 5*150 + 3*600},
		{
			"timed rounds do not wait for it, what builds on them does",
			waits(exact(division("J", 20, timed(2), forecast.Stage{Kind: forecast.Knockout, Entries: 2})), 600, 0), 4*150 + 600 + 150,
		},
		{"one bench: a duel is two turns", narrow(exact(division("J", 2, knockout)), 1), 2 * 150},
		{"a car rests between two runs", waits(exact(division("J", 2, timed(2))), 0, 600), 150 + 600 + 150},
		// Four heats of two on four benches are two waves; both finals fit beside each other.
		{"two knockouts of four side by side", narrow(exact(division("J", 4, knockout), division("S", 4, knockout)), 4), 3 * 150},
		{
			"two legs and never a decider",
			exact(func() forecast.Division {
				d := division("J", 2, forecast.Stage{Kind: forecast.Knockout, Legs: 2})
				d.RunSD = 0
				return d
			}()), 2 * 150,
		},
		{"all against all of five: five rounds of two heats", exact(division("J", 5, forecast.Stage{Kind: forecast.RoundRobin})), 5 * 150},
	} {
		r := play(t, tt.day, 100)
		for _, got := range []float64{r.Finish.P10, r.Finish.P50, r.Finish.P90} {
			if math.Abs(got-tt.want) > 1e-6 {
				t.Errorf("%s: ends after %g s, not %g", tt.what, got, tt.want)
				break
			}
		}
	}
}

// TestTwoCars: of two normal speeds with noise the true order shows with the chance
// 1/2 + asin(rho)/pi, rho the correlation of true and shown difference (W. F. Sheppard,
// 1899); with runs of equal scatter averaged over n rounds the noise shrinks by sqrt(n).
func TestTwoCars(t *testing.T) {
	const samples = 20_000
	right := func(carSD, runSD float64) float64 {
		return 0.5 + math.Asin(carSD/math.Hypot(carSD, runSD))/math.Pi
	}
	for _, runSD := range []float64{0.01, 0.04, 0.2} {
		for _, tt := range []struct {
			what  string
			stage forecast.Stage
			noise float64
		}{
			{"one duel", forecast.Stage{Kind: forecast.Knockout}, runSD},
			{"the mean of four rounds", forecast.Stage{Kind: forecast.TimedRounds, Rounds: 4, Rule: forecast.Mean}, runSD / 2},
		} {
			d := division("J", 2, tt.stage)
			d.RunSD = runSD
			got := play(t, exact(d), samples).Fit.BestCarWins
			want := right(0.04, tt.noise)
			if math.Abs(got-want) > 4*math.Sqrt(want*(1-want)/samples) {
				t.Errorf("%s, scatter %g: the better car wins in %.4f, not %.4f", tt.what, runSD, got, want)
			}
		}
	}
}

// TestAgreement: the expectation of Kendall's tau of two normal variables is
// 2 asin(rho)/pi (P. A. P. Moran, "Rank correlation and product-moment correlation",
// Biometrika 35, 1948).
func TestAgreement(t *testing.T) {
	for _, runSD := range []float64{0.004, 0.04, 0.2} {
		d := division("J", 20, forecast.Stage{Kind: forecast.TimedRounds, Rounds: 3, Rule: forecast.Mean})
		d.RunSD = runSD
		got := play(t, exact(d), 4000).Fit.RankAgreement
		want := 2 / math.Pi * math.Asin(0.04/math.Hypot(0.04, runSD/math.Sqrt(3)))
		// The tau of one sample of 20 scatters by less than 0.17.
		if math.Abs(got-want) > 4*0.17/math.Sqrt(4000) {
			t.Errorf("scatter %g: tau is %.4f, not %.4f", runSD, got, want)
		}
	}
}

// TestRacedAgain: on one bench the number of races until each of 30 cars has one that
// stands is negative binomial.
func TestRacedAgain(t *testing.T) {
	const cars, again, samples = 30, 0.2, 20_000
	day := exact(division("J", cars, timed(1)))
	day.Benches, day.RerunRate = 1, again
	// P(more than races are needed): fewer than 30 of so many stand.
	more := func(races int) float64 {
		p := 0.0
		for k := range cars {
			l, _ := math.Lgamma(float64(races + 1))
			a, _ := math.Lgamma(float64(k + 1))
			b, _ := math.Lgamma(float64(races - k + 1))
			p += math.Exp(l - a - b + float64(k)*math.Log(1-again) + float64(races-k)*math.Log(again))
		}
		return p
	}
	for _, races := range []int{34, 37, 41} {
		day.Closes = (float64(races) + 0.5) * 150
		got, want := play(t, day, samples).LateChance, more(races)
		if math.Abs(got-want) > 4*math.Sqrt(want*(1-want)/samples) {
			t.Errorf("more than %d races are needed in %.4f, not %.4f", races, got, want)
		}
	}
}

// TestRunsOfForms: how often everybody races follows from the form alone.
func TestRunsOfForms(t *testing.T) {
	for _, tt := range []struct {
		what  string
		n     int
		stage forecast.Stage
		runs  float64
		least int
	}{
		{"a knockout has n-1 heats", 16, forecast.Stage{Kind: forecast.Knockout}, 30.0 / 16, 1},
		{"and one more for the third place", 16, forecast.Stage{Kind: forecast.Knockout, ThirdPlace: true}, 2, 1},
		{"all against all", 7, forecast.Stage{Kind: forecast.RoundRobin}, 6, 6},
		{"Swiss rounds of an even field", 12, forecast.Stage{Kind: forecast.Swiss, Rounds: 5}, 5, 5},
		{"Swiss rounds of an odd field: one has each round off", 13, forecast.Stage{Kind: forecast.Swiss, Rounds: 5}, 60.0 / 13, 4},
		{"points rounds", 12, forecast.Stage{Kind: forecast.PointsRounds, Rounds: 4, Lanes: 4}, 4, 4},
		{"four groups of four, two of each go on", 16, forecast.Stage{Kind: forecast.Groups, Groups: 4, Advance: 2}, 3 + 14.0/16, 3},
		{"heats of four, two go on, without a B final", 16, forecast.Stage{Kind: forecast.Heats, Lanes: 4, Advance: 2}, (16 + 8 + 4) / 16.0, 1},
	} {
		r := play(t, exact(division("J", tt.n, tt.stage)), 200)
		if math.Abs(r.Fit.Runs-tt.runs) > 1e-9 || r.Fit.LeastRuns != tt.least {
			t.Errorf("%s: %g runs on average and at least %d, not %g and %d", tt.what, r.Fit.Runs, r.Fit.LeastRuns, tt.runs, tt.least)
		}
	}
	// Two defeats put an entry out: 2n-2 heats, or 2n-1.
	r := play(t, exact(division("J", 16, forecast.Stage{Kind: forecast.DoubleElimination})), 500)
	if low, high := 60.0/16, 62.0/16; r.Fit.Runs <= low || r.Fit.Runs >= high || r.Fit.LeastRuns != 2 {
		t.Errorf("two defeats: %g runs, at least %d", r.Fit.Runs, r.Fit.LeastRuns)
	}
	last := r.Rounds[len(r.Rounds)-1]
	if last.Chance <= 0 || last.Chance >= 1 {
		t.Errorf("a second final is raced in %g of the days", last.Chance)
	}
}

// TestNoScatterNoDoubt: where runs repeat exactly, the quickest car wins in every form,
// and where all meet all, or each runs for itself, the whole order is right.
func TestNoScatterNoDoubt(t *testing.T) {
	for _, stage := range []forecast.Stage{
		timed(1),
		{Kind: forecast.RoundRobin},
		{Kind: forecast.Knockout},
		{Kind: forecast.DoubleElimination},
		{Kind: forecast.Swiss, Rounds: 4},
		{Kind: forecast.Groups, Groups: 3, Advance: 2},
		{Kind: forecast.Heats, Lanes: 4, Advance: 2},
	} {
		d := division("J", 12, stage)
		d.RunSD = 0
		fit := play(t, exact(d), 300).Fit
		if fit.BestCarWins != 1 {
			t.Errorf("%s: the quickest car wins in %g", stage.Kind, fit.BestCarWins)
		}
		if whole := stage.Kind == forecast.TimedRounds || stage.Kind == forecast.RoundRobin; whole && fit.RankAgreement != 1 {
			t.Errorf("%s: tau is %g", stage.Kind, fit.RankAgreement)
		}
	}
}

// TestSpread: on one bench the finish is a sum of change-overs. Its standard deviation
// follows from that of one and of the day, and the middle of many is the mean.
func TestSpread(t *testing.T) {
	const cars = 40
	day := exact(division("J", cars, timed(1)))
	day.Benches, day.HeatSpread, day.DaySpread = 1, 0.3, 0.1
	r := play(t, day, 20_000)
	mean := cars * 150.0
	sd := cars * 90 * math.Hypot(0.1, math.Hypot(0.3, 0.3*0.1)/math.Sqrt(cars))
	const tenth = 1.2816 // of the normal distribution; a lognormal this narrow is near it
	for _, v := range []struct{ got, want float64 }{{r.Finish.P10, mean - tenth*sd}, {r.Finish.P50, mean}, {r.Finish.P90, mean + tenth*sd}} {
		if math.Abs(v.got-v.want) > 0.12*sd {
			t.Errorf("a tenth, half or nine tenths end before %.0f, not %.0f", v.got, v.want)
		}
	}
}

// TestSameAnswer: the same day and seed give the same report, another seed another one.
func TestSameAnswer(t *testing.T) {
	day := exact(
		division("J", 20, timed(2), forecast.Stage{Kind: forecast.Knockout, Entries: 8}),
		division("S", 9, forecast.Stage{Kind: forecast.Swiss, Rounds: 4}),
	)
	day.HeatSpread, day.RerunRate, day.FailureRate = 0.3, 0.05, 0.02
	a, b := play(t, day, 200), play(t, day, 200)
	if !reflect.DeepEqual(a, b) {
		t.Error("the same day was answered differently")
	}
	c, err := forecast.Play(day, 200, 2)
	if err != nil || reflect.DeepEqual(a, c) {
		t.Errorf("another seed gives the same report, %v", err)
	}
}

// TestWhatHoldsItUp: full benches are held up by benches, a final by its rounds.
func TestWhatHoldsItUp(t *testing.T) {
	if r := play(t, exact(division("J", 40, timed(5))), 100); r.Bottleneck != forecast.Benches || r.Used < 0.99 {
		t.Errorf("full benches: %q, used %g", r.Bottleneck, r.Used)
	}
	r := play(t, exact(division("J", 4, timed(1)), division("S", 8, forecast.Stage{Kind: forecast.Knockout})), 100)
	if r.Bottleneck != "S" {
		t.Errorf("a knockout on empty benches is held up by %q", r.Bottleneck)
	}
}

func TestOptions(t *testing.T) {
	day := exact(division("J", 40, timed(3), forecast.Stage{Kind: forecast.Knockout, Entries: 16}))
	list, err := forecast.Options(day, 100, 1)
	if err != nil {
		t.Fatal(err)
	}
	if len(list) != 10 || !list[0].Planned {
		t.Fatalf("%d options, the first is planned: %v", len(list), list[0].Planned)
	}
	for _, o := range list {
		if home := o.Fit.LeastRuns < 2; home != (o.AdvisedAgainst != "") {
			t.Errorf("%s: at least %d runs, advised against: %q", o.Format, o.Fit.LeastRuns, o.AdvisedAgainst)
		}
	}
	day.Divisions[0].Entries, day.Divisions[0].Stages = 1, []forecast.Stage{{Kind: forecast.TimedRounds, Rounds: 2, Race: 60}}
	if list, err = forecast.Options(day, 100, 1); err != nil || len(list) != 3 {
		t.Errorf("one entry alone has %d options, %v", len(list), err)
	}
}

func TestRefusals(t *testing.T) {
	for _, tt := range []struct {
		change func(*forecast.Day)
		says   string
	}{
		{func(d *forecast.Day) { d.Closes = d.Opens }, "close later"},
		{func(d *forecast.Day) { d.Benches = 0 }, "give 1 to 64"},
		{func(d *forecast.Day) { d.ChangeOver = -1 }, "changeover is -1"},
		{func(d *forecast.Day) { d.RerunRate = math.NaN() }, "rerun_rate"},
		{func(d *forecast.Day) { d.FailureRate = 0.6 }, "failure_rate is 0.6"},
		{func(d *forecast.Day) { d.Divisions = nil }, "0 divisions"},
		{func(d *forecast.Day) { d.Divisions = append(d.Divisions, d.Divisions[0]) }, "an id of its own"},
		{func(d *forecast.Day) { d.Divisions[0].Entries = 0 }, "0 entries"},
		{func(d *forecast.Day) { d.Divisions[0].CarSD = 4 }, "relative"},
		{func(d *forecast.Day) { d.Divisions[0].Stages = nil }, "0 stages"},
		{func(d *forecast.Day) { d.Divisions[0].Stages[0].Kind = "league" }, `"league" is not known`},
		{func(d *forecast.Day) { d.Divisions[0].Stages[0].Race = 0 }, "in seconds"},
		{func(d *forecast.Day) { d.Divisions[0].Stages[0].Rounds = 0 }, "0 rounds"},
		{func(d *forecast.Day) { d.Divisions[0].Stages[0].Rule = "worst" }, `"worst" is not known`},
		{func(d *forecast.Day) {
			d.Divisions[0].Entries, d.Divisions[0].Stages[0] = 4, forecast.Stage{Kind: forecast.Swiss, Rounds: 4, Race: 60}
		}, "3 Swiss rounds"},
		{func(d *forecast.Day) {
			d.Divisions[0].Entries, d.Divisions[0].Stages[0] = 1, forecast.Stage{Kind: forecast.Knockout, Race: 60}
		}, "two entries"},
	} {
		day := exact(division("J", 8, timed(2)))
		tt.change(&day)
		_, err := forecast.Play(day, 100, 1)
		var no *forecast.Refusal
		if !errors.As(err, &no) || !strings.Contains(err.Error(), tt.says) {
			t.Errorf("%q is not in: %v", tt.says, err)
		}
	}
	for _, samples := range []int{0, 99, forecast.MaxSamples + 1} {
		if _, err := forecast.Play(exact(division("J", 8, timed(2))), samples, 1); err == nil {
			t.Errorf("%d samples were played", samples)
		}
	}
}

func BenchmarkPlay(b *testing.B) {
	day := exact(division("J", 40, timed(3), forecast.Stage{Kind: forecast.Knockout, Entries: 16}))
	day.HeatSpread, day.RerunRate = 0.3, 0.05
	for b.Loop() {
		if _, err := forecast.Play(day, 100, 1); err != nil {
			b.Fatal(err)
		}
	}
}
