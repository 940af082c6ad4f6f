package quicker_test

import (
	"errors"
	"math"
	"math/rand/v2"
	"slices"
	"strconv"
	"testing"

	"github.com/google/go-cmp/cmp"

	"benchmeet/domain/club"
	"benchmeet/domain/day"
	"benchmeet/domain/measure"
	"benchmeet/domain/quicker"
	"benchmeet/domain/refusal"
	"benchmeet/domain/tuning"
	"benchmeet/domain/workshop"
)

// hall is a club with one car, in which things happen a minute apart.
type hall struct {
	*club.State
	nowUS int64
	step  int // fittings so far
	runs  int
	bench day.BenchID
	race  int64
}

// Two setups of the car that differ in the gear alone.
var (
	slowGear = workshop.Setup{Driving: 10, Driven: 40, Pack: 1}
	fastGear = workshop.Setup{Driving: 12, Driven: 38, Pack: 1}
)

func gearOf(changed bool) workshop.Setup {
	if changed {
		return fastGear
	}
	return slowGear
}

func newHall() *hall {
	h := &hall{State: club.New(), nowUS: 1_800_000_000_000_000, bench: "b1", race: 20_000_000}
	h.do(club.CarRegistered{Car: club.Car{ID: "c", Number: 7}})
	return h
}

func (h *hall) do(e club.Event) {
	h.nowUS += 60_000_000
	club.Evolve(h.State, e, h.nowUS)
}

// fit puts the car into a state.
func (h *hall) fit(state int, setup workshop.Setup) {
	h.step++
	h.do(club.CarChanged{Car: "c", State: state, Fitting: h.step, Setup: setup})
}

// run makes a run of so many metres, in the state that the car is in.
func (h *hall) run(metres float64) day.RunID { return h.drive(lane{"c", h.bench}, metres) }

// lane is a car on a bench.
type lane struct {
	car   day.CarID
	bench day.BenchID
}

func (h *hall) drive(l lane, metres float64) day.RunID {
	h.runs++
	now := h.Lives.At(l.car).Now()
	id := day.RunID("r" + strconv.Itoa(h.runs))
	um := int64(math.Round(metres * 1e6))
	h.do(club.PracticeRecorded{
		ID: id, Bench: l.bench, Car: l.car, Boot: "aa", Trace: "t", RaceUS: h.race, State: now.State, Fitting: now.Fitting,
		Figures: measure.Figures{DistanceUM: um, MaxUMPS: um / 18},
	})
	return id
}

// turns fits and runs states in an order, each so often, a metre apart at 100 m.
func (h *hall) turns(states string, runs int) {
	for i, s := range states {
		state := 1
		if s == 'B' {
			state = 2
		}
		h.fit(state, gearOf(state == 2))
		for k := range runs {
			h.run(100 + float64(state) + 0.05*float64((3*i+2*k)%5))
		}
	}
}

func (h *hall) compare(t *testing.T) quicker.Report {
	t.Helper()
	r, err := quicker.Compare(h.State, "c", 1, 2, nil)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

func (h *hall) announce(fittings, runs int) {
	h.do(club.ComparisonPlanned{Car: "c", From: 1, To: 2, Fittings: fittings, RunsAFitting: runs})
}

// TestAnnouncedComparison: gears in the proposed order, two runs each, say "quicker" at the
// announced number, and say on the way what to run.
func TestAnnouncedComparison(t *testing.T) {
	h := newHall()
	h.turns("A", 1)
	h.do(club.CarChanged{Car: "c", State: 2, Fitting: 99, Setup: fastGear}) // noted, so that it can be announced
	h.do(club.CarChanged{Car: "c", State: 1, Fitting: 100, Setup: slowGear})
	h.step = 100
	h.announce(8, 2)
	if r := h.compare(t); !r.Announced || r.Next != (quicker.Next{State: 1, Runs: 2, Refit: true}) || len(r.Effects) != 0 {
		t.Errorf("before the first run: %+v", r)
	}
	h.turns("A", 1)
	if r := h.compare(t); r.Next != (quicker.Next{State: 1, Runs: 1}) {
		t.Errorf("in the midst of the first fitting: %+v", r.Next)
	}
	h.run(101.1)
	h.turns("BBABAA", 2)
	h.turns("B", 1)
	r := h.compare(t)
	if r.Next != (quicker.Next{State: 2, Runs: 1}) || r.Waiting != 1 || r.Effects[0].Fittings != 7 || r.Effects[0].Left != 1 {
		t.Errorf("with half of the last fitting: next %+v, %d wait, %+v", r.Next, r.Waiting, r.Effects[0])
	}
	h.run(102.1)
	r = h.compare(t)
	if e := r.Effects[0]; e.Verdict != tuning.Quicker || e.Fittings != 8 || e.Left != 0 || r.Next != (quicker.Next{}) ||
		!r.OrderKept || len(r.Unfair) > 0 {
		t.Errorf("at the end: %+v", r)
	}
	if e := r.Effects[0]; e.Low > 0.00985 || e.High < 0.00985 { // 102.1 to 101.1, about
		t.Errorf("the change of one metre in 101 is not in %g to %g", e.Low, e.High)
	}
	if diff := cmp.Diff([]int{1, 2, 2, 1, 2, 1, 1, 2}, r.Order); diff != "" {
		t.Error(diff)
	}
	before := r.Effects[0]
	h.turns("AB", 2)
	if r = h.compare(t); r.Effects[0] != before || r.Waiting != 4 {
		t.Errorf("more than were announced are taken into account: %d wait, %+v", r.Waiting, r.Effects[0])
	}
	h.announce(10, 2)
	h.turns("A", 2)
	if r = h.compare(t); len(r.Runs) != 4 {
		t.Errorf("announced again it takes %d runs, not those of the present fitting and the next", len(r.Runs))
	}
}

// TestTheOrderThatWasNotKept is said, and what was fitted once is compared run by run.
func TestOrderNotKept(t *testing.T) {
	h := newHall()
	h.turns("A", 5)
	h.turns("B", 5)
	r := h.compare(t)
	if e := r.Effects[0]; r.Announced || !e.AsFitted || e.Fittings != 10 || e.Efficiency > 0.5 {
		t.Errorf("five and five: %+v", r)
	}
	h.turns("AABB", 1)
	if r = h.compare(t); r.OrderKept {
		t.Error("A B A A B B is the proposed order")
	}
}

// TestNotFair: what cannot be compared says why, and nothing else.
func TestNotFair(t *testing.T) {
	both := workshop.Setup{Driving: 12, Driven: 38, Pack: 1, Grease: "oil"}
	pack := workshop.Setup{Driving: 12, Driven: 38, Pack: 2}
	for _, tt := range []struct {
		name string
		make func(h *hall)
		want []quicker.Unfair
	}{
		{"two parts", func(h *hall) { h.fit(1, slowGear); h.run(100); h.fit(2, both); h.run(101) }, []quicker.Unfair{quicker.TwoChanged}},
		{"a pack too", func(h *hall) { h.fit(1, slowGear); h.run(100); h.fit(2, pack); h.run(101) }, []quicker.Unfair{quicker.TwoChanged, quicker.OtherPack}},
		{"another bench", func(h *hall) { h.fit(1, slowGear); h.run(100); h.bench = "b2"; h.fit(2, fastGear); h.run(101) }, []quicker.Unfair{quicker.OtherBench}},
		{"another length", func(h *hall) { h.fit(1, slowGear); h.run(100); h.race = 15_000_000; h.fit(2, fastGear); h.run(75) }, []quicker.Unfair{quicker.OtherLength}},
		{"another day", func(h *hall) {
			h.fit(1, slowGear)
			h.run(100)
			h.nowUS += 24 * 3600 * 1_000_000
			h.fit(2, fastGear)
			h.run(101)
		}, []quicker.Unfair{quicker.OtherDay}},
		{"fair", func(h *hall) { h.fit(1, slowGear); h.run(100); h.fit(2, fastGear); h.run(101) }, nil},
	} {
		t.Run(tt.name, func(t *testing.T) {
			h := newHall()
			tt.make(h)
			r := h.compare(t)
			if !slices.Equal(r.Unfair, tt.want) || len(tt.want) > 0 && len(r.Effects) > 0 {
				t.Errorf("%v, with %d effects", r.Unfair, len(r.Effects))
			}
		})
	}
	h := newHall()
	h.run(100)
	h.fit(1, slowGear)
	h.run(101)
	if r, err := quicker.Compare(h.State, "c", 0, 1, nil); err != nil || !slices.Equal(r.Unfair, []quicker.Unfair{quicker.NotNoted}) {
		t.Errorf("what is not noted: %+v, %v", r.Unfair, err)
	}
	var no *refusal.Refusal
	for _, states := range [][2]int{{1, 1}, {1, 9}, {-1, 1}} {
		if _, err := quicker.Compare(h.State, "c", states[0], states[1], nil); !errors.As(err, &no) || no.Code != "compare-states" {
			t.Errorf("states %v: %v", states, err)
		}
	}
}

// TestOnlyWhatCounts: a spin of a finger, a dropped run and one of another car stay out,
// and a run that is put back comes in again.
func TestOnlyWhatCounts(t *testing.T) {
	h := newHall()
	h.turns("ABBAB", 2)
	h.do(club.PracticeRecorded{
		ID: "spin", Bench: "b1", Car: "c", Boot: "aa", Trace: "t", RaceUS: h.race, State: 2, Fitting: 5,
		Figures: measure.Figures{DistanceUM: 1}, Short: true,
	})
	h.do(club.CarRegistered{Car: club.Car{ID: "d", Number: 8}})
	all := len(h.compare(t).Runs)
	h.do(club.PracticeJudged{Run: "r3", Drop: workshop.OffRollers})
	h.do(club.PracticeMoved{Run: "r6", Car: "d"})
	r := h.compare(t)
	for _, one := range r.Runs {
		if one.ID == "spin" || one.ID == "r3" || one.ID == "r6" {
			t.Errorf("%s is compared", one.ID)
		}
	}
	h.do(club.PracticeJudged{Run: "r3"})
	h.do(club.PracticeMoved{Run: "r6", Car: "c", State: 1, Fitting: 3})
	if got := len(h.compare(t).Runs); got != all {
		t.Errorf("%d runs are compared again, of %d", got, all)
	}
}

// TestScatterOfBefore: what an earlier afternoon scattered by comes with its degrees of
// freedom, and another length of run tells nothing.
func TestScatterOfBefore(t *testing.T) {
	h := newHall()
	h.turns("ABBABAAB", 2)
	h.nowUS += 24 * 3600 * 1_000_000
	h.turns("ABBA", 2)
	r := h.compare(t)
	if r.Before.Degrees != 4 || r.Before.SD <= 0 || r.Effects[0].Scatter.Degrees != 4+1 {
		t.Errorf("after eight fittings, with a change, a level and a curved drift: %+v, %+v", r.Before, r.Effects[0].Scatter)
	}
	h.nowUS += 24 * 3600 * 1_000_000
	h.race = 15_000_000
	h.turns("ABBA", 2)
	if r := h.compare(t); r.Before.Degrees != 0 {
		t.Errorf("runs of another length are pooled: %+v", r.Before)
	}
}

// TestEffects: of a change that acts on the start alone the start is told and the rest is
// not; a run without stamps leaves start and fading out.
func TestEffects(t *testing.T) {
	h := newHall()
	h.turns("ABBABAAB", 1)
	random := rand.New(rand.NewPCG(3, 4))
	traits := func(p club.Practice) quicker.Traits {
		out := quicker.Traits{StartS: 0.8 * (1 + 0.002*random.NormFloat64()), Kept: 0.9 * (1 + 0.002*random.NormFloat64())}
		if p.State == 2 {
			out.StartS /= 1.1
		}
		return out
	}
	r, err := quicker.Compare(h.State, "c", 1, 2, traits)
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range r.Effects {
		switch e.Effect {
		case quicker.Start:
			if !e.Told || e.Low > 0.1 || e.High < 0.1 {
				t.Errorf("a start that takes a tenth less: %+v", e)
			}
		case quicker.Fading:
			if e.Told || e.Missing {
				t.Errorf("a fading that is alike: %+v", e)
			}
		}
	}
	r = h.compare(t)
	if !r.Effects[1].Missing || !r.Effects[3].Missing || r.Effects[2].Missing {
		t.Errorf("without stamps: %+v", r.Effects)
	}
}

// TestFittedOnceSpendsLittle: where nobody announced a number and each state was fitted once,
// the last look is still to come, and what one in a hundred comparisons shows by chance is
// not said; what is plain is.
func TestFittedOnceSpendsLittle(t *testing.T) {
	between, plain := 0, 0
	for tenth := range 30 {
		h := newHall()
		for _, state := range []int{1, 2} {
			h.fit(state, gearOf(state == 2))
			for k := range 5 {
				h.run(100 + 0.1*float64((state-1)*tenth) + 0.15*float64((7*k+3*state)%5))
			}
		}
		e := h.compare(t).Effects[0]
		said := e.Verdict == tuning.Quicker || e.Verdict == tuning.Slower
		switch {
		case e.P > 0.005 && said:
			t.Errorf("%.1f m more: said with P = %.4f", 0.1*float64(tenth), e.P)
		case e.P > 0.005 && e.P < 0.04:
			between++
		case said:
			plain++
		}
	}
	if between == 0 || plain == 0 {
		t.Errorf("%d looks lie between the levels and %d are plain: the test shows nothing", between, plain)
	}
}
