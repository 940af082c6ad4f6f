package forecast

import (
	"math"
	"math/rand/v2"
)

// chance is what one sample draws: the cars of a division and their runs.
type chance struct {
	random  *rand.Rand
	speeds  []float64 // true, relative: natural logarithm
	runSD   float64
	failure float64
}

// Streams of a sample: the cars of a division stay the same whatever form they race in.
const (
	carsStream = iota + 1
	runsStream
	timesStream
)

// stream is the source of one kind of chance in one sample.
func stream(seed, sample uint64, division, what int) *rand.Rand {
	of := uint64(division)<<8 | uint64(what)
	return rand.New(rand.NewPCG(seed^0x9e3779b97f4a7c15*(sample+1), of))
}

// newChance draws the true speeds of a division's cars.
func newChance(d Division, failure float64, seed, sample uint64, number int) *chance {
	cars := stream(seed, sample, number, carsStream)
	c := &chance{random: stream(seed, sample, number, runsStream), runSD: d.RunSD, failure: failure}
	c.speeds = make([]float64, d.Entries)
	for i := range c.speeds {
		c.speeds[i] = d.CarSD * cars.NormFloat64()
	}
	return c
}

// run is what a car shows in one run; minus infinity for a run without a result.
func (c *chance) run(car int) float64 {
	v := c.speeds[car] + c.runSD*c.random.NormFloat64()
	if c.random.Float64() < c.failure {
		return math.Inf(-1)
	}
	return v
}
