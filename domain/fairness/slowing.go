package fairness

import (
	"errors"
	"math"
)

// Slowing says how much a car slows down within a run, as batteries fade and
// motors get warm.
type Slowing struct {
	// Lost is the part of the speed that is lost between the middle of the first
	// third and the middle of the last: 0.05 is 5 %. It is negative where the car
	// gets quicker.
	Lost float64
	// U is its standard uncertainty, from the scatter about a straight line.
	U float64
}

// The run is read in pieces, the median of each counts: samples that follow one
// another are not independent, and a wobble must not look like certainty.
const (
	mostPieces  = 15
	leastPieces = 8
)

// FitSlowing finds how much a car slows down from times in s, ascending, and
// speeds, best without its coming up to speed. The slope is that of Theil and Sen,
// so that a stumble does not move it. It is an error where there are too few
// samples or no speed.
func FitSlowing(times, speeds []float64) (Slowing, error) {
	n := len(times)
	pieces := min(mostPieces, n/3)
	if n != len(speeds) || pieces < leastPieces {
		return Slowing{}, errors.New("the run is too short to say how much it slows down")
	}
	first, length := times[0], times[n-1]-times[0]
	when, level := make([]float64, 0, pieces), make([]float64, 0, pieces)
	for part, from := 0, 0; part < pieces; part++ {
		until := first + length*float64(part+1)/float64(pieces)
		to := from
		for to < n && (times[to] <= until || part == pieces-1) {
			to++
		}
		if to > from { // a piece may be empty: the roller stood still
			when, level = append(when, Median(times[from:to])), append(level, Median(speeds[from:to]))
		}
		from = to
	}
	if len(when) < leastPieces {
		return Slowing{}, errors.New("too much of the run is missing to say how much it slows down")
	}
	trend, err := FitTheilSen(when, level)
	if err != nil {
		return Slowing{}, err
	}
	begin := trend.At0 + trend.Slope*(first+length/6)
	if !(begin > 0) || math.IsInf(trend.High-trend.Low, 0) {
		return Slowing{}, errors.New("the run does not show a speed that could be lost")
	}
	scale := length * 2 / 3 / begin
	return Slowing{Lost: -trend.Slope * scale, U: (trend.High - trend.Low) / 2 / normal95 * scale}, nil
}

// normal95 is the reach of 95 % on either side of a normal distribution.
const normal95 = 1.959964
