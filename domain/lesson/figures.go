package lesson

import (
	"math"
	"slices"

	"benchmeet/domain/club"
	"benchmeet/domain/day"
	"benchmeet/domain/workshop"
)

// Figures is a practice session in numbers.
type Figures struct {
	Cars []Car // by number
	// FewestRuns are the cars that have made the fewest, where others have made more.
	FewestRuns []int
	// Idle are the cars of an open session that have not run for a quarter of an hour.
	Idle []int
	// BenchUS is for how long its benches were there together, DrivenUS for how long cars
	// drove on them, LostUS what stood still between two runs of a bench beyond the usual
	// change, in µs.
	BenchUS, DrivenUS, LostUS int64
}

// Car is what one car did in a session.
type Car struct {
	ID      day.CarID
	Number  int
	Runs    int // those that count
	Changes int
	LastUS  int64 // when it ran last; 0 is never
	Guesses []Guess
	// ClosestGuess is the smallest error of a first run after a change: a child that holds
	// back between them wins nothing by it. Nil where there is none.
	ClosestGuess *float64
	// Improved is how much farther its best run was than the best of its first three; nil
	// before a fourth.
	Improved *float64
	// Pairs are the states of the car that ran one after the other.
	Pairs [][2]int
}

// Guess is a guess beside what came out.
type Guess struct {
	Run       day.RunID
	GuessUM   int64
	CameUM    int64
	Error     float64 // of the guess, relative to what came out
	AfterStep bool    // the first run after a change
}

// idleUS is after what time a car that has not run is named.
const idleUS = 15 * 60 * 1_000_000

// usualChangeUS is how long a bench stands between two runs without anything being wrong
// (common practice: a turn of two runs of 15 s takes about 90 s).
const usualChangeUS = 60 * 1_000_000

// Of reads a session as it is now. Its cost goes with the runs since it was opened.
func Of(s *club.State, one workshop.Session, nowUS int64) Figures {
	until := nowUS
	if !one.Open() {
		until = one.ClosedUS
	}
	var out Figures
	runs := runsOf(s, one)
	byCar := map[day.CarID][]club.Practice{}
	for _, r := range runs {
		byCar[r.Car] = append(byCar[r.Car], r)
	}
	for _, car := range s.SortedCars() {
		if made := byCar[car.ID]; len(made) > 0 || slices.Contains(one.Queue, car.ID) {
			out.Cars = append(out.Cars, carOf(s, one, car, made, until))
		}
	}
	least, most := math.MaxInt, 0
	for _, c := range out.Cars {
		least, most = min(least, c.Runs), max(most, c.Runs)
	}
	for _, c := range out.Cars {
		if c.Runs == least && least < most {
			out.FewestRuns = append(out.FewestRuns, c.Number)
		}
		if one.Open() && nowUS-max(c.LastUS, one.OpenedUS) >= idleUS {
			out.Idle = append(out.Idle, c.Number)
		}
	}
	out.BenchUS = int64(len(one.Benches)) * max(0, until-one.OpenedUS)
	out.DrivenUS, out.LostUS = benchTimes(runs)
	return out
}

// runsOf are the runs of a session, oldest first.
func runsOf(s *club.State, one workshop.Session) []club.Practice {
	var out []club.Practice
	for r := range s.Practised() {
		if r.AtUS < one.OpenedUS {
			break
		}
		if r.Session == one.ID {
			out = append(out, *r)
		}
	}
	slices.Reverse(out)
	return out
}

func carOf(s *club.State, one workshop.Session, car club.Car, runs []club.Practice, until int64) Car {
	out := Car{ID: car.ID, Number: car.Number}
	for _, step := range s.Lives.At(car.ID).Steps {
		if step.AtUS >= one.OpenedUS && step.AtUS <= until {
			out.Changes++
		}
	}
	var counted []club.Practice
	fitting, first := -1, false
	for _, r := range runs {
		if !r.Counts() {
			continue
		}
		first, fitting = r.Fitting != fitting && r.Fitting > 0, r.Fitting
		if n := len(counted); n > 0 && counted[n-1].State != r.State {
			pair := [2]int{counted[n-1].State, r.State}
			if !slices.Contains(out.Pairs, pair) && !slices.Contains(out.Pairs, [2]int{pair[1], pair[0]}) {
				out.Pairs = append(out.Pairs, pair)
			}
		}
		counted = append(counted, r)
		out.LastUS = r.AtUS
		if r.GuessUM == 0 || r.Figures.DistanceUM == 0 {
			continue
		}
		came := r.Figures.DistanceUM
		g := Guess{Run: r.ID, GuessUM: r.GuessUM, CameUM: came, AfterStep: first, Error: math.Abs(float64(r.GuessUM-came)) / float64(came)}
		out.Guesses = append(out.Guesses, g)
		if first && (out.ClosestGuess == nil || g.Error < *out.ClosestGuess) {
			out.ClosestGuess = &g.Error
		}
	}
	out.Runs = len(counted)
	out.Improved = improved(counted)
	return out
}

// improved compares the best of the first three runs with the best of those after them, of
// those that were as long as the first.
func improved(runs []club.Practice) *float64 {
	var best [2]int64
	n := 0
	for _, r := range runs {
		if r.RaceUS != runs[0].RaceUS {
			continue
		}
		later := 0
		if n >= 3 {
			later = 1
		}
		best[later] = max(best[later], r.Figures.DistanceUM)
		n++
	}
	if best[0] == 0 || best[1] == 0 {
		return nil
	}
	by := float64(best[1])/float64(best[0]) - 1
	return &by
}

// benchTimes is for how long cars drove, and what stood still between two runs of a bench
// beyond the usual change.
func benchTimes(runs []club.Practice) (drivenUS, lostUS int64) {
	ended := map[day.BenchID]int64{}
	for _, r := range runs {
		took := max(r.RaceUS, r.Figures.TimeUS)
		drivenUS += took
		if before, there := ended[r.Bench]; there {
			lostUS += max(0, r.AtUS-took-before-usualChangeUS)
		}
		ended[r.Bench] = max(ended[r.Bench], r.AtUS)
	}
	return drivenUS, lostUS
}
