package quicker_test

import (
	"errors"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"benchmeet/domain/club"
	"benchmeet/domain/quicker"
	"benchmeet/domain/refusal"
	"benchmeet/domain/tuning"
)

// two are a hall with a second car, "d", whose state is noted too.
func two() *hall {
	h := newHall()
	h.do(club.CarRegistered{Car: club.Car{ID: "d", Number: 8}})
	h.do(club.CarChanged{Car: "d", State: 1, Fitting: 1, Setup: fastGear})
	h.do(club.CarChanged{Car: "c", State: 1, Fitting: 1, Setup: slowGear})
	return h
}

// inOrder drives two lanes as the letters say, with what each run goes by.
func (h *hall) inOrder(order string, a, b lane, metres func(second bool, k int) float64) {
	for k, letter := range order {
		l := a
		if letter == 'B' {
			l = b
		}
		h.drive(l, metres(letter == 'B', k))
	}
}

var carC, carD = lane{"c", "b1"}, lane{"d", "b1"}

// TestTwoCars: they are told apart by their turns, the same from either side, and only on
// one bench, over one length, in one afternoon and in turns.
func TestTwoCars(t *testing.T) {
	h := two()
	// The second goes 2 % farther; neighbours repeat within 0.1 %.
	h.inOrder("ABABABAB", carC, carD, func(second bool, k int) float64 {
		m := 100 + 0.1*float64((3*k)%5)/4
		if second {
			m *= 1.02
		}
		return m
	})
	r, err := quicker.CompareCars(h.State, "c", "d", nil)
	if err != nil || len(r.Unfair) != 0 || len(r.Runs) != 8 || r.Bench != "b1" || !r.OrderKept || r.Others != 0 {
		t.Fatalf("%+v, %v", r, err)
	}
	far := r.Effects[0]
	if far.Verdict != tuning.Quicker || far.Low > 0.02 || far.High < 0.02 || far.AsFitted {
		t.Errorf("2 %% farther: %+v", far)
	}
	back, err := quicker.CompareCars(h.State, "d", "c", nil)
	if err != nil || len(back.Effects) == 0 {
		t.Fatalf("%+v, %v", back, err)
	}
	if back.Effects[0].Verdict != tuning.Slower ||
		math.Abs((1+back.Effects[0].Change)*(1+far.Change)-1) > 1e-9 {
		t.Errorf("from the other side: %+v, %v", back.Effects[0], err)
	}
	// A change of one of them begins anew: what it was before is another car.
	h.do(club.CarChanged{Car: "d", State: 2, Fitting: 2, Setup: slowGear})
	h.drive(carD, 100)
	if r, _ := quicker.CompareCars(h.State, "c", "d", nil); len(r.Runs) != 5 || len(r.Effects) == 0 || r.Effects[0].Verdict != tuning.NotYet {
		t.Errorf("after a change: %d runs, %+v", len(r.Runs), r.Effects)
	}
	var no *refusal.Refusal
	if _, err := quicker.CompareCars(h.State, "c", "c", nil); !errors.As(err, &no) || no.Code != "compare-cars" {
		t.Error(err)
	}
}

// TestTwoCarsUnfairly: what cannot be told is said, and nothing is compared.
func TestTwoCarsUnfairly(t *testing.T) {
	even := func(second bool, k int) float64 { return 100 + 0.01*float64(k*k%7) }
	for name, c := range map[string]struct {
		drive func(*hall)
		want  quicker.Unfair
	}{
		"one after the other": {func(h *hall) { h.inOrder("AAAAABBBBB", carC, carD, even) }, quicker.InBlocks},
		"other benches":       {func(h *hall) { h.inOrder("ABABABAB", carC, lane{"d", "b2"}, even) }, quicker.OtherBench},
		"other lengths": {func(h *hall) {
			for k := range 8 {
				h.race = 20_000_000 - int64(k%2)*5_000_000
				h.drive([]lane{carC, carD}[k%2], 100)
			}
		}, quicker.OtherLength},
		"other days": {func(h *hall) {
			h.inOrder("AAAA", carC, carD, even)
			h.nowUS += 24 * 3600 * 1_000_000
			h.inOrder("BBBB", carC, carD, even)
		}, quicker.OtherDay},
	} {
		h := two()
		c.drive(h)
		r, err := quicker.CompareCars(h.State, "c", "d", nil)
		if err != nil || !slices.Equal(r.Unfair, []quicker.Unfair{c.want}) || len(r.Effects) != 0 {
			t.Errorf("%s: %v, %+v, %v", name, r.Unfair, r.Effects, err)
		}
	}
}

// TestTwoBenches: one car in turns on both tells what one shows beside the other; without
// turns, nothing is told.
func TestTwoBenches(t *testing.T) {
	h := two()
	second := lane{"c", "b2"}
	reads := func(other bool, k int) float64 {
		m := 100 - 0.2*float64(k) + 0.02*float64((3*k)%5)
		if other {
			m *= 0.99
		}
		return m
	}
	h.inOrder("ABABABAB", carC, second, reads)
	h.drive(carD, 90) // another car on the bench is none of it
	r, err := quicker.CompareBenches(h.State, "c", "b1", "b2", nil)
	if err != nil || len(r.Unfair) != 0 || r.Bench != "" || len(r.Runs) != 8 || r.Runs[1].Bench != "b2" {
		t.Fatalf("%+v, %v", r, err)
	}
	if far := r.Effects[0]; far.Verdict != tuning.Slower || far.Low > -0.01 || far.High < -0.01 {
		t.Errorf("a bench that shows 1 %% less: %+v", far)
	}
	h = two()
	h.inOrder("AAAAABBBBB", carC, second, reads)
	r, err = quicker.CompareBenches(h.State, "c", "b1", "b2", nil)
	if err != nil || !slices.Equal(r.Unfair, []quicker.Unfair{quicker.InBlocks}) {
		t.Errorf("one bench after the other: %v, %v", r.Unfair, err)
	}
	var no *refusal.Refusal
	if _, err := quicker.CompareBenches(h.State, "c", "b1", "b1", nil); !errors.As(err, &no) || no.Code != "compare-benches" {
		t.Error(err)
	}
}

// TestProveTwoCars plays afternoons of two cars of known difference, whose packs fade by
// 1 % a run and who repeat within 0.3 % (common practice) and stand on the rollers a little
// otherwise each turn: the intervals of the last look hold the truth as they claim, and of
// cars that are alike one of twenty is called farther at most, though each run is looked at.
func TestProveTwoCars(t *testing.T) {
	const sessions, repeats, stands = 400, 0.003, 0.002
	random := rand.New(rand.NewPCG(31, 7))
	for _, effect := range []float64{0, 0.01} {
		held, said := 0, 0
		for range sessions {
			h := two()
			once := false
			var last quicker.Compared
			driven := [2]float64{}
			for _, second := range []bool{false, true, false, true, false, true, false, true} {
				side, l, stand := 0, carC, stands*random.NormFloat64()
				if second {
					side, l = 1, carD
				}
				for range 2 {
					v := -0.01*driven[side] + stand + repeats*random.NormFloat64()
					if second {
						v += math.Log1p(effect)
					}
					driven[side]++
					h.drive(l, 120*math.Exp(v))
					r, err := quicker.CompareCars(h.State, "c", "d", nil)
					if err != nil {
						t.Fatal(err)
					}
					if len(r.Effects) > 0 {
						last = r.Effects[0]
						once = once || last.Verdict == tuning.Quicker || last.Verdict == tuning.Slower
					}
				}
			}
			if last.Low <= effect && effect <= last.High {
				held++
			}
			if once {
				said++
			}
		}
		// Three standard deviations of a count about its limit.
		slack := func(p float64) float64 { return 3 * math.Sqrt(p*(1-p)/sessions) }
		covers, tells := float64(held)/sessions, float64(said)/sessions
		t.Logf("effect %g: covers %.4f, said %.4f", effect, covers, tells)
		if covers < 0.93-slack(0.93) {
			t.Errorf("effect %g: the interval covers in %.4f", effect, covers)
		}
		if effect == 0 && tells > 0.05+slack(0.05) {
			t.Errorf("cars that are alike are told apart in %.4f", tells)
		}
	}
}
