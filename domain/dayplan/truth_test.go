package dayplan_test

import (
	"math"
	"math/rand/v2"

	"benchmeet/domain/day"
)

// truth is how long things take in one hall on one day. It is written from what is known of
// such days (common practice), not from the forecast: people are quick or slow as there are
// few or many benches an adult; each division walks its own way; now and then somebody is
// not at the table and has to be looked for; something stops the day; a bench fails.
type truth struct {
	random *rand.Rand
	// call, post, change and desk are means in seconds: from a call to the start, from the
	// race to the posting, of the change-over, and of a step at the desk.
	call, post, change, desk float64
	// walks stretches the calls of a division.
	walks map[day.DivisionID]float64
	// uneven is how much a length scatters about its mean, of the mean.
	uneven float64
	// lookedFor is the part of heats of which a car has to be looked for.
	lookedFor float64
	// pauses and fails are instants and lengths of what stops the day or a bench.
	pauses, fails []stoppage
}

type stoppage struct{ at, length int64 }

// asUsual is a day as it is expected, with everything stretched by a factor.
func asUsual(random *rand.Rand, slow float64) *truth {
	return &truth{random: random, call: 120 * slow, post: 15 * slow, change: 45 * slow, desk: 30 * slow, uneven: 0.4}
}

// between is a number from one to another.
func (d *truth) between(from, to float64) float64 { return from + (to-from)*d.random.Float64() }

// newTruth draws a day on so many benches.
func newTruth(seed uint64, benches int, divisions ...day.DivisionID) *truth {
	d := &truth{random: rand.New(rand.NewPCG(seed, 77)), walks: map[day.DivisionID]float64{}}
	// One adult to one bench and a half up to four: hands are what is missing.
	hands := d.between(1.5, 4)
	people := 0.7 + 0.6*(hands-1.5)/2.5
	people *= d.between(0.85, 1.15)
	d.call = 120 * people * d.between(0.8, 1.2)
	d.post = 15 * people * d.between(0.75, 1.25)
	d.change = 45 * people * d.between(0.75, 1.25)
	d.desk = 30 * people * d.between(0.75, 1.25)
	for _, id := range divisions {
		d.walks[id] = d.between(0.85, 1.15)
	}
	d.uneven, d.lookedFor = d.between(0.25, 0.5), d.between(0, 0.08)
	hours := 0.0
	for {
		if hours += 10 * d.random.ExpFloat64(); hours > 12 {
			break
		}
		d.pauses = append(d.pauses, stoppage{openingUS + int64(hours*3600e6), int64(d.between(3, 13) * 60e6)})
	}
	for hours = 0; ; {
		if hours += 30 / float64(benches) * d.random.ExpFloat64(); hours > 12 {
			break
		}
		d.fails = append(d.fails, stoppage{openingUS + int64(hours*3600e6), int64(d.between(5, 35) * 60e6)})
	}
	return d
}

// takes is a length about a mean in seconds: never under a third of it, with a tail to the
// right.
func (d *truth) takes(mean float64) int64 {
	least := mean / 3
	shape := math.Pow((mean-least)/(mean*d.uneven), 2)
	return int64((least + (mean-least)*d.gamma(shape)/shape) * 1e6)
}

// gamma is a gamma number of a shape of at least a half, its mean the shape: the sum of
// exponential ones, and the square of a normal one for a half (E. N. Erlang, 1909, for whole
// shapes; those between are mixed).
func (d *truth) gamma(shape float64) float64 {
	halves := 2 * shape
	n := math.Floor(halves)
	if d.random.Float64() < halves-n {
		n++
	}
	x := 0.0
	for ; n >= 2; n -= 2 {
		x += d.random.ExpFloat64()
	}
	if n == 1 {
		z := d.random.NormFloat64()
		x += z * z / 2
	}
	return x
}

func (d *truth) calls(division day.DivisionID) int64 {
	walk := d.walks[division]
	if walk == 0 {
		walk = 1
	}
	// The mean of the day has those in it who are looked for, a minute each.
	us := d.takes(d.call*walk - 60*d.lookedFor)
	if d.random.Float64() < d.lookedFor {
		us += d.takes(60)
	}
	return us
}
