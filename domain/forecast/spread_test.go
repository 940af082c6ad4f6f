package forecast_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"benchmeet/domain/forecast"
)

// TestSpreadOf: of cars whose spread is known the same comes out, also where two fields show
// quite different values and cars ran unlike often.
func TestSpreadOf(t *testing.T) {
	random := rand.New(rand.NewPCG(5, 5))
	var runs []forecast.Shown
	for car := range 600 {
		field := car % 2
		own := 0.08*random.NormFloat64() + 2*float64(field)
		for range 2 + car%4 {
			runs = append(runs, forecast.Shown{
				Field: fmt.Sprint(field), Car: fmt.Sprint(car), Value: math.Exp(own + 0.02*random.NormFloat64()),
			})
		}
	}
	got, known := forecast.SpreadOf(runs)
	// Six hundred cars: the standard error of their spread is 0.08 / sqrt(2 * 600) = 0.0023.
	if !known || got.Cars != 600 || math.Abs(got.CarSD-0.08) > 0.007 || math.Abs(got.RunSD-0.02) > 0.0015 {
		t.Errorf("%v, %+v, want 0.08 and 0.02 of 600 cars", known, got)
	}
	// By hand: six cars that show e^0 and e^0.2, all alike: 0.02 within (of 6 degrees, squares
	// 12 * 0.01), nothing between.
	runs = nil
	for car := range 6 {
		for _, v := range []float64{0, 0.2} {
			runs = append(runs, forecast.Shown{Car: fmt.Sprint(car), Value: math.Exp(v)})
		}
	}
	if got, known = forecast.SpreadOf(runs); !known || math.Abs(got.RunSD-math.Sqrt(0.02)) > 1e-9 || got.CarSD != 0.001 {
		t.Errorf("%v, %+v", known, got)
	}
	if _, known = forecast.SpreadOf(runs[:10]); known {
		t.Error("five cars tell the spread of a club")
	}
	if _, known = forecast.SpreadOf(append(runs[:11:11], forecast.Shown{Car: "5", Value: math.Inf(1)})); known {
		t.Error("a run without an end counts")
	}
}

// TestCompareStops: a comparison that is told to stop has played every form equally often,
// and what it says is what so many days say.
func TestCompareStops(t *testing.T) {
	d := forecast.Day{
		Closes: 20_000, Benches: 4, ChangeOver: 90, HeatSpread: 0.3, DaySpread: 0.2,
		Divisions: []forecast.Division{
			{ID: "a", Entries: 10, CarSD: 0.05, RunSD: 0.01, Stages: []forecast.Stage{{Kind: forecast.Knockout, Race: 60}}},
		},
	}
	asked := 0
	short, err := forecast.Compare(d, 1000, 3, func() bool { asked++; return asked > 60 })
	if err != nil {
		t.Fatal(err)
	}
	whole, err := forecast.Compare(d, 100, 3, nil)
	if err != nil {
		t.Fatal(err)
	}
	if len(short) < 6 || len(short) != len(whole) {
		t.Fatalf("%d and %d forms", len(short), len(whole))
	}
	for i, o := range short {
		if o.Samples != forecast.LeastSamples+60 || o.Finish != whole[i].Finish || o.Fit != whole[i].Fit {
			t.Errorf("%s: %d days, %+v; want %+v", o.Code, o.Samples, o.Finish, whole[i].Finish)
		}
		if len(o.Stages) != 1 || len(o.Stages[0]) == 0 {
			t.Errorf("%s has no stages", o.Code)
		}
	}
	never, err := forecast.Compare(d, 1000, 3, func() bool { return true })
	if err != nil || never[0].Samples != forecast.LeastSamples {
		t.Errorf("%v, %d days", err, never[0].Samples)
	}
}

// TestLongestWait: one car alone on a bench runs twice, 60 s and 30 s for the change, and
// rests 100 s between; of three cars in turn each waits for the two others, unless the lot
// lets one begin the second round that ended the first.
func TestLongestWait(t *testing.T) {
	d := forecast.Day{
		Closes: 20_000, Benches: 1, ChangeOver: 30, Rest: 100,
		Divisions: []forecast.Division{{ID: "a", Entries: 1, Stages: []forecast.Stage{{Kind: forecast.TimedRounds, Race: 60, Rounds: 2}}}},
	}
	for entries, want := range map[int][2]float64{1: {100, 100}, 3: {180, 360}} {
		d.Divisions[0].Entries = entries
		got, err := forecast.Play(d, 100, 1)
		if err != nil {
			t.Fatal(err)
		}
		if wait := got.Fit.LongestWait; wait < want[0] || wait > want[1] {
			t.Errorf("%d cars: %g s, want %g to %g", entries, wait, want[0], want[1])
		}
	}
}
