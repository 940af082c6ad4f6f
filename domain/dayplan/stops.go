package dayplan

import (
	"math"
	"math/rand/v2"
)

// What nobody plans (engineering judgement): in ten hours of racing a day stands still once,
// for eight minutes on average, and in thirty hours of a bench it fails once, for twenty.
const (
	hourUS       = int64(3600 * secondUS)
	pauseEveryUS = 10 * hourUS
	pauseUS      = 480 * secondUS
	breakEveryUS = 30 * hourUS
	breakUS      = 1200 * secondUS
	stopsScatter = 0.6
	// goneForGood is the part of benches that fail and are not seen again that day.
	goneForGood   = 0.1
	mostPausesDay = 20
)

// stop is an instant at which something stands still, and for how long.
type stop struct{ atUS, forUS int64 }

// stops are what makes a day longer than its play.
type stops struct {
	r      *Rest
	pauses []stop
	// desk is how many times as long this desk needs for the same.
	desk float64
}

// pauses draws when the day stands still: instants are those of a day without pauses.
func pauses(r *Rest, toUS int64, random *rand.Rand) stops {
	out := stops{r: r, desk: 1}
	for at := r.AtUS; len(out.pauses) < mostPausesDay; {
		at += int64(random.ExpFloat64() * float64(pauseEveryUS))
		if at >= toUS {
			return out
		}
		out.pauses = append(out.pauses, stop{at, times(pauseUS, scatter(random, stopsScatter))})
	}
	return out
}

// shift is an instant of a play as it is with them.
func (s stops) shift(atUS int64) int64 {
	tasks := s.r.stopped(atUS) // are as long as they were planned
	out := s.r.AtUS + tasks + times(atUS-s.r.AtUS-tasks, s.desk)
	for _, p := range s.pauses {
		if p.atUS < atUS {
			out += p.forUS
		}
	}
	return out
}

// breaks draws when each bench fails for the first time.
func breaks(r *Rest, out []stop, random *rand.Rand) []stop {
	out = out[:0]
	for range r.Benches {
		at := r.AtUS + int64(random.ExpFloat64()*float64(breakEveryUS))
		out = append(out, stop{at, times(breakUS, scatter(random, stopsScatter))})
	}
	return out
}

// backs draws from when on each bench is in service: those behind the first inService are out
// now. Who knows only since when one is out, knows that it takes longer than that.
func backs(r *Rest, out []int64, inService int, random *rand.Rand) []int64 {
	out = out[:0]
	for b := range r.Benches {
		at := r.AtUS
		if b >= inService {
			at = never
			gone := int64(0)
			if since := r.Out[b-inService].SinceUS; since > 0 {
				gone = max(0, r.AtUS-since)
			}
			for try := 0; try < 20 && at == never; try++ {
				if random.Float64() < goneForGood {
					break
				}
				if takes := times(breakUS, scatter(random, stopsScatter)); takes > gone {
					at = r.AtUS + takes - gone
				}
			}
		}
		out = append(out, at)
	}
	return out
}

func times(us int64, factor float64) int64 { return int64(float64(us) * factor) }

// scatter is a factor with a mean of 1 that scatters by sd: a lognormal one.
func scatter(random *rand.Rand, sd float64) float64 {
	v := math.Log1p(sd * sd)
	return math.Exp(math.Sqrt(v)*random.NormFloat64() - v/2)
}
