package lesson_test

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"benchmeet/domain/club"
	"benchmeet/domain/day"
	"benchmeet/domain/lesson"
	"benchmeet/domain/measure"
	"benchmeet/domain/workshop"
)

const (
	minute = 60_000_000
	opened = int64(1_800_000_000_000_000)
)

// hall is a session on one bench that was opened at opened.
type hall struct {
	*club.State
	runs int
}

func newHall() *hall {
	h := &hall{State: club.New()}
	h.at(0, club.PracticeOpened{ID: "s", Benches: []day.BenchID{"b1"}, Settings: workshop.Settings{RaceUS: 20_000_000, Turn: 2}})
	return h
}

func (h *hall) at(minutes int64, e club.Event) { club.Evolve(h.State, e, opened+minutes*minute) }

func (h *hall) car(number int) day.CarID {
	id := day.CarID(fmt.Sprintf("car-%d", number))
	if _, there := h.Cars.Get(id); !there {
		h.at(0, club.CarRegistered{Car: club.Car{ID: id, Number: number}})
	}
	return id
}

func (h *hall) run(minutes int64, number int, metres, guess float64) {
	h.runs++
	car := h.car(number)
	now := h.Lives.At(car).Now()
	um := int64(math.Round(metres * 1e6))
	h.at(minutes, club.PracticeRecorded{
		ID: day.RunID(fmt.Sprintf("r%d", h.runs)), Bench: "b1", Car: car, Session: "s", RaceUS: 20_000_000,
		State: now.State, Fitting: now.Fitting, GuessUM: int64(guess * 1e6),
		Figures: measure.Figures{DistanceUM: um, MeanUMPS: um / 20, MaxUMPS: um / 18},
	})
}

func (h *hall) fit(minutes int64, number, state, fitting int, s workshop.Setup) {
	h.at(minutes, club.CarChanged{Car: h.car(number), State: state, Fitting: fitting, Setup: s})
}

func (h *hall) figures(minutes int64) lesson.Figures {
	one, _ := h.Session("s")
	return lesson.Of(h.State, one, opened+minutes*minute)
}

// TestAwards: the closest guess is one of a first run after a change, though a later one
// was closer; most improved counts from the best of the first three.
func TestAwards(t *testing.T) {
	h := newHall()
	h.fit(1, 7, 1, 1, workshop.Setup{Driving: 10, Driven: 40})
	h.run(2, 7, 100, 90)  // first after a change: 10 % off
	h.run(3, 7, 110, 110) // right, and not first
	h.run(4, 7, 80, 0)    // held back
	h.fit(5, 7, 2, 2, workshop.Setup{Driving: 12, Driven: 38})
	h.run(6, 7, 121, 133.1) // 10 % off again
	h.run(7, 8, 50, 0)
	f := h.figures(8)
	c := f.Cars[0]
	if c.Number != 7 || c.Runs != 4 || c.Changes != 2 || len(c.Guesses) != 3 || !slices.Equal(c.Pairs, [][2]int{{1, 2}}) {
		t.Fatalf("%+v", c)
	}
	if c.ClosestGuess == nil || math.Abs(*c.ClosestGuess-0.1) > 1e-9 {
		t.Errorf("the closest guess is %v off", c.ClosestGuess)
	}
	if c.Improved == nil || math.Abs(*c.Improved-0.1) > 1e-9 {
		t.Errorf("from 110 to 121 m it improved by %v", c.Improved)
	}
	if other := f.Cars[1]; other.Improved != nil || other.ClosestGuess != nil {
		t.Errorf("of one run: %+v", other)
	}
}

// TestWhoIsLeftOut: who has had fewest runs, who has not run for a quarter of an hour, and
// what a bench stood still.
func TestWhoIsLeftOut(t *testing.T) {
	h := newHall()
	h.run(1, 7, 100, 0)
	h.run(2, 7, 100, 0)
	h.run(12, 8, 100, 0) // ten minutes later: 20 s are its own run, a minute is usual
	f := h.figures(17)
	if !slices.Equal(f.FewestRuns, []int{8}) || !slices.Equal(f.Idle, []int{7}) {
		t.Errorf("fewest %v, idle %v", f.FewestRuns, f.Idle)
	}
	if want := int64(10*minute - 20_000_000 - minute); f.LostUS != want || f.DrivenUS != 60_000_000 || f.BenchUS != 17*minute {
		t.Errorf("lost %d µs, not %d; driven %d, of %d", f.LostUS, want, f.DrivenUS, f.BenchUS)
	}
}

// TestClassNamesNobody: below five cars there is no point, and of five none says whose it is.
func TestClassNamesNobody(t *testing.T) {
	h := newHall()
	for n := range 5 {
		one, _ := h.Session("s")
		if c := lesson.ClassOf(h.State, &one); len(c.Points) != 0 || c.Cars != n {
			t.Fatalf("of %d cars there are %d points", n, len(c.Points))
		}
		h.fit(1, 90-n, 1, 1, workshop.Setup{Driving: 10, Driven: 30 + n, Cells: 2, Chemistry: "nickel-metal-hydride", WheelUM: 25_000})
		h.run(2, 90-n, 100.0+0.3*float64(n), 0)
		h.run(3, 90-n, 100.0+0.3*float64(n), 0)
	}
	h.run(4, 20, 70, 0) // of which nothing is noted
	c := lesson.ClassOf(h.State, nil)
	if len(c.Points) != 5 || c.Cars != 5 {
		t.Fatalf("%+v", c)
	}
	codes := ""
	for i, p := range c.Points {
		codes += p.Code
		if p.Volts != 2.4 || p.WheelMM != 25 || math.Abs(p.Ratio-(3+0.1*float64(i))) > 1e-9 || p.Runs != 2 {
			t.Errorf("%+v", p)
		}
		if steps := p.SpeedMPS / 0.05; math.Abs(steps-math.Round(steps)) > 1e-9 {
			t.Errorf("a speed of %g m/s could be found among a car's runs", p.SpeedMPS)
		}
	}
	// The cars came from 90 down and their ratios rose: codes in the order of the cars would
	// run the other way, or hold a number.
	if codes != "ABCDE" || strings.ContainsAny(codes, "0123456789") {
		t.Errorf("the codes are %s", codes)
	}
}
