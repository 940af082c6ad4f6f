package lesson

import (
	"cmp"
	"math"
	"slices"

	"benchmeet/domain/battery"
	"benchmeet/domain/club"
	"benchmeet/domain/day"
	"benchmeet/domain/workshop"
)

// LeastCars is how many cars a plot of the class needs: of fewer, each point would lead to
// its car.
const LeastCars = 5

// Class is what the cars of a session, or of all times, were made of and how quick they
// were, without saying whose they are.
type Class struct {
	Cars   int // that have runs in a state that is noted
	Points []Point
}

// Point is one state of one car: the mean of its runs that count. What is not noted is 0.
type Point struct {
	Code     string // fresh: it follows from the values alone, and names nobody
	Ratio    float64
	Volts    float64 // of the pack, by its cells: 1.2 V or 1.5 V each
	WheelMM  float64
	MassG    float64
	SpeedMPS float64 // mean speed, to 0.05 m/s
	Runs     int
}

// speedStep is to what a speed of the class is rounded, in m/s: finer, it could be found
// among the runs that a car's own page shows.
const speedStep = 0.05

// ClassOf gathers the runs of a session, or of all of them where it is nil. Its cost goes
// with the runs since the session began, and of all runs with the states of all cars.
func ClassOf(s *club.State, one *workshop.Session) Class {
	var driven []club.Driven
	if one == nil {
		driven = slices.Collect(s.Driven())
	} else {
		driven = drivenIn(s, one)
	}
	driven = slices.DeleteFunc(driven, func(d club.Driven) bool { return d.State == 0 })
	cars := map[day.CarID]struct{}{}
	for _, d := range driven {
		cars[d.Car] = struct{}{}
	}
	out := Class{Cars: len(cars)}
	if out.Cars < LeastCars {
		return out
	}
	for _, d := range driven {
		setup, _ := s.Lives.At(d.Car).Setup(d.State)
		speed := float64(d.SpeedUMPS) / 1e6 / float64(d.Runs)
		out.Points = append(out.Points, Point{
			Ratio: math.Round(100*setup.Ratio()) / 100, Volts: volts(setup), WheelMM: float64(setup.WheelUM) / 1e3,
			MassG: float64(setup.MassMG) / 1e3, SpeedMPS: math.Round(speed/speedStep) * speedStep, Runs: d.Runs,
		})
	}
	slices.SortFunc(out.Points, func(a, b Point) int {
		return cmp.Or(
			cmp.Compare(a.Ratio, b.Ratio), cmp.Compare(a.Volts, b.Volts), cmp.Compare(a.WheelMM, b.WheelMM),
			cmp.Compare(a.MassG, b.MassG), cmp.Compare(a.SpeedMPS, b.SpeedMPS), cmp.Compare(a.Runs, b.Runs),
		)
	})
	for i := range out.Points {
		out.Points[i].Code = code(i)
	}
	return out
}

// drivenIn is what each car drove in each of its states in a session, as club.Driven has it
// of all runs.
func drivenIn(s *club.State, one *workshop.Session) []club.Driven {
	type key struct {
		car   day.CarID
		state int
	}
	at := map[key]int{}
	var out []club.Driven
	for r := range s.Practised() {
		if r.AtUS < one.OpenedUS {
			break
		}
		if !r.HasSpeed() || r.Session != one.ID {
			continue
		}
		k := key{r.Car, r.State}
		n, there := at[k]
		if !there {
			n = len(out)
			at[k], out = n, append(out, club.Driven{Car: r.Car, State: r.State})
		}
		out[n].Runs++
		out[n].SpeedUMPS += r.Figures.MeanUMPS
	}
	return out
}

// volts is what a pack gives by its cells: 1.2 V each where they are charged again, else
// 1.5 V (common practice).
func volts(s workshop.Setup) float64 {
	switch s.Chemistry {
	case "":
		return 0
	case battery.NiMH:
		return 1.2 * float64(s.Cells)
	}
	return 1.5 * float64(s.Cells)
}

// code counts A to Z, AA, AB and so on.
func code(n int) string {
	out := string(rune('A' + n%26))
	if n >= 26 {
		return code(n/26-1) + out
	}
	return out
}
