package node

import (
	"fmt"
	"math"
	"slices"
	"time"
)

const (
	// rateEvery is how much time gives one point of the envelope, rateAfter how long
	// a clock is watched before its rate is told, ratePoints how many points are kept:
	// the last half hour.
	rateEvery  = 5 * time.Second
	rateAfter  = 10 * time.Minute
	ratePoints = 360
	// hostPPM is how well this computer's own clock is trusted, as a standard
	// uncertainty: quartz is good to 20 to 50 ppm (common practice).
	hostPPM = 30.0
)

// Rate is what the box's clock gains on the computer's.
type Rate struct {
	PPM  float64 // positive where the box's clock runs fast
	UPPM float64 // standard uncertainty, with the computer's own clock in it
}

// Beyond says whether the clock is further off than the bench's settings say,
// doubt of the comparison left aside.
func (r Rate) Beyond(clockPPM float64) bool { return math.Abs(r.PPM) > clockPPM+2*r.UPPM }

// Says tells in words that the clock is further off than the bench's settings say.
func (r Rate) Says(clockPPM float64) string {
	how := "fast"
	if r.PPM < 0 {
		how = "slow"
	}
	return fmt.Sprintf("the clock of the counter box runs %s by %.0f ± %.0f ppm (95 %%) of this computer's, "+
		"and the bench's settings say %.0f ppm: "+
		"nothing is corrected; set clock_ppm of the bench to %.0f or more, or give the box a quartz",
		how, math.Abs(r.PPM), 2*r.UPPM, clockPPM, 10*math.Ceil((math.Abs(r.PPM)+2*r.UPPM)/10))
}

// rates compares the box's clock with the computer's. Arrivals are late and never
// early, so only the quickest line of each five seconds counts, and the rate is the
// slope of the line below all of those points that is nearest to them in the mean:
// the edge of their lower convex hull over their mean instant (S. Moon, P. Skelly
// and D. Towsley, "Estimation and removal of clock skew from network delay
// measurements", INFOCOM 1999). It costs a pass over 360 points, once in ten minutes.
type rates struct {
	points []point
	told   time.Duration // when it was told last
}

// point is the quickest line of five seconds: when it came, and how much later
// than the box's clock says, in µs.
type point struct{ at, delay float64 }

// add takes a line in: when it came, and the box's µs.
func (r *rates) add(at time.Duration, us int64) {
	p := point{float64(at.Microseconds()), float64(at.Microseconds() - us)}
	bucket := func(p point) int64 { return int64(p.at) / rateEvery.Microseconds() }
	if n := len(r.points); n > 0 && bucket(r.points[n-1]) == bucket(p) {
		if p.delay < r.points[n-1].delay {
			r.points[n-1] = p
		}
		return
	}
	if len(r.points) == ratePoints {
		r.points = slices.Delete(r.points, 0, 1)
	}
	r.points = append(r.points, p)
}

// due gives the rate once after each ten minutes.
func (r *rates) due(at time.Duration) (Rate, bool) {
	if len(r.points) == 0 || at-r.told < rateAfter || at-time.Duration(r.points[0].at)*time.Microsecond < rateAfter {
		return Rate{}, false
	}
	rate, ok := r.rate()
	if ok {
		r.told = at
	}
	return rate, ok
}

// rate fits the line. It needs points over most of ten minutes.
func (r *rates) rate() (Rate, bool) {
	n := len(r.points)
	if n < 30 || r.points[n-1].at-r.points[0].at < 0.9*float64(rateAfter.Microseconds()) {
		return Rate{}, false
	}
	var hull []point
	mean := 0.0
	for _, p := range r.points {
		mean += p.at / float64(n)
		for len(hull) > 1 && turnsRight(hull[len(hull)-2], hull[len(hull)-1], p) {
			hull = hull[:len(hull)-1]
		}
		hull = append(hull, p)
	}
	i := 1
	for i < len(hull)-1 && hull[i].at < mean {
		i++
	}
	a, b := hull[i-1], hull[i]
	slope := (b.delay - a.delay) / (b.at - a.at)
	// How far the quickest lines scatter above the line says how far its two ends may
	// be off: their median, over the way between the middles of the two halves.
	above := make([]float64, n)
	for k, p := range r.points {
		above[k] = p.delay - (a.delay + slope*(p.at-a.at))
	}
	slices.Sort(above)
	half := (r.points[n-1].at - r.points[0].at) / 2
	u := math.Hypot(1e6*math.Sqrt2*above[n/2]/half, hostPPM)
	// A delay that grows means that the box's clock falls behind.
	return Rate{PPM: -1e6 * slope, UPPM: u}, true
}

// turnsRight says whether b lies on or above the line from a to c.
func turnsRight(a, b, c point) bool {
	return (b.at-a.at)*(c.delay-a.delay)-(b.delay-a.delay)*(c.at-a.at) <= 0
}
