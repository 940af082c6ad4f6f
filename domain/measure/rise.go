package measure

import "math"

const (
	// riseSize is how many stamps the fit of a rise uses.
	riseSize = 12
	// riseCells is how many ways before the first stamp are weighed at a time.
	riseCells = 32
	// riseMost is the largest way that is weighed, in steps, about.
	riseMost = 3.5
	// riseFurthest is the way up to which more than riseMost is looked at where the
	// stamps ask for it: a row of missed passes.
	riseFurthest = 30
	// riseFloor is the scatter of a pass, in turns, below which no fit is
	// believed: the ripple of a wheel and the model itself.
	riseFloor = 0.002
	// riseWander is what the slow wander of a car's speed adds to the uncertainty,
	// in steps for each second of the rise. From simulated cars that wander by 0.3
	// to 0.8 %.
	riseWander = 0.0255
	// riseVisible is by how much the first gap must be longer than the last one
	// for there to be a rise.
	riseVisible = 1.1
	// riseHides is the gap in µs from which a whole rise may lie before the first
	// stamp, riseQuick the least time that a rise from rest takes, and riseLong the
	// most that a car loses to its reaction and its rise.
	riseHides = 60_000
	riseQuick = 40_000
	riseLong  = 1_200_000
	// riseMissed is the weight of a start whose first pass was missed.
	riseMissed = 0.01
)

// rise holds the first stamps of a roller that began to turn after the start
// signal. Its way before the first stamp is not seen; but how it gained its first
// speed follows from how it gained the next.
type rise struct {
	points int
	times  [riseSize]float64 // µs
	steps  [riseSize]float64 // since the first stamp
}

// begin takes the first stamp.
func (r *rise) begin(at float64) {
	r.points, r.times[0], r.steps[0] = 1, at, 0
}

// add takes the next genuine stamp, if there is room for it.
func (r *rise) add(at, steps float64) {
	if r.points < len(r.times) {
		r.times[r.points] = at
		r.steps[r.points] = r.steps[r.points-1] + steps
		r.points++
	}
}

// flat reports whether the stamps show no rise: the first gap is about as short
// as the last.
func (r *rise) flat() bool {
	n := r.points - 1
	if n < 2 {
		return true
	}
	first := (r.times[1] - r.times[0]) / r.steps[1]
	last := (r.times[n] - r.times[n-1]) / (r.steps[n] - r.steps[n-1])
	return first < riseVisible*last
}

// way is what is believed of the steps before the first stamp.
type way struct {
	steps   float64
	u       float64 // standard uncertainty
	missed  bool    // they hold passes that were missed
	lost    bool    // there was time for more than a step, of which nothing was seen
	even    bool    // every way within the root of 3 of u is as likely
	unknown bool    // anything from nothing to one step
}

// back weighs the ways that the roller may have gone between the start, elapsed
// µs before the first stamp, and that stamp. A first-order rise (see motion
// below) that began some time before the first stamp is fitted to the stamps for
// each of riseGrid such times; the better it fits, the more its way weighs, as
// Student's t weighs a sum of squares. Before the stamps are seen every way up
// to one step is taken as equally likely, which for a mark that stands anywhere
// is the truth. floor is the least scatter in steps.
func (r *rise) back(elapsed, floor float64) way {
	if r.points < 4 || elapsed < 0 {
		return way{steps: 0.5, u: 1 / math.Sqrt(12), unknown: true}
	}
	if r.flat() {
		// The roller was at full speed when its first stamp came.
		gap := r.times[1] - r.times[0]
		if gap/r.steps[1] > riseHides && elapsed > riseQuick {
			// A slow roller is up to speed before its first stamp. What it lost to the
			// reaction and to the rise is not seen.
			most := min(1, elapsed*r.steps[1]/gap)
			least := max(0, min(most, (elapsed-riseLong)*r.steps[1]/gap))
			return way{steps: (most + least) / 2, u: (most - least) / math.Sqrt(12), even: true}
		}
		w := way{steps: elapsed * r.steps[1] / (r.times[1] - r.times[0]), u: floor}
		if w.steps > 1 {
			w.lost = w.steps > 1.5
			w.steps, w.u = 1, 0.5/math.Sqrt(3)
		}
		return w
	}
	scale := r.times[r.points-1] - r.times[0]
	// The square of the lead is about in proportion to the way. A roller under
	// constant acceleration that does the last of the steps here in their time
	// does a first one in this lead:
	unit := 1 / math.Sqrt(r.steps[r.points-1])
	low, high := 0.0, 2.25*riseMost*unit*unit
	var g riseGrid
	for pass := 0; pass < 2; pass++ { // once over the whole range, once where the weight is
		g.weigh(r, scale, elapsed/scale, floor, low, high)
		step := (high - low) / riseCells
		first, last := g.support()
		if pass == 0 && last == riseCells-1 && high < 2.25*riseFurthest*unit*unit {
			high *= 4 // a row of passes was missed
			pass = -1
			continue
		}
		low, high = max(low, low+step*float64(first-1)), low+step*float64(last+2)
	}
	w := g.sum(floor)
	w.u = math.Hypot(w.u, riseWander*scale/1e6)
	if w.missed {
		w.u = math.Hypot(w.u, 0.1+0.25*(w.steps-1)) // the further, the more it is a guess
	}
	return w
}

// backQuickly returns about the steps that back finds, from the first two gaps
// under constant acceleration.
func (r *rise) backQuickly(elapsed float64) float64 {
	gap1, gap2 := r.times[1]-r.times[0], r.times[2]-r.times[1]
	speed1, speed2 := r.steps[1]/gap1, (r.steps[2]-r.steps[1])/gap2
	accel := (speed2 - speed1) / ((gap1 + gap2) / 2)
	speed := speed1 - accel*gap1/2
	if accel > 0 {
		elapsed = min(elapsed, max(0, speed/accel))
	}
	return speed*elapsed - accel*elapsed*elapsed/2
}

// riseGrid holds ways before the first stamp with their weights.
type riseGrid struct {
	ways, weights [riseCells]float64
}

// weigh fits a rise for leads whose squares lie evenly between low and high, in
// units of scale.
func (g *riseGrid) weigh(r *rise, scale, elapsed, floor, low, high float64) {
	var misfits [riseCells]float64
	m := motion{tau: 1}
	least := math.Inf(1)
	for k := range g.ways {
		lead := math.Sqrt(low + (high-low)*(float64(k)+0.5)/riseCells)
		misfits[k] = m.fit(r, scale, lead)
		g.ways[k] = m.at(lead)
		if lead > elapsed {
			g.ways[k] -= m.at(lead - elapsed)
		}
		least = min(least, misfits[k])
	}
	freedom := float64(r.points - 3)
	extra := float64(r.points) * floor * floor
	for k, w := range g.ways {
		// Equal parts of the way weigh the same beforehand.
		part := g.ways[min(k+1, riseCells-1)] - g.ways[max(k-1, 0)]
		g.weights[k] = max(0, part) * math.Pow((least+extra)/(misfits[k]+extra), freedom/2)
		if w > 1 {
			g.weights[k] *= riseMissed
		}
	}
}

// support returns the first and last cell whose weight is worth a closer look.
func (g *riseGrid) support() (first, last int) {
	most := 0.0
	for _, w := range g.weights {
		most = max(most, w)
	}
	first, last = riseCells-1, 0
	for k, w := range g.weights {
		if w > 1e-4*most {
			first, last = min(first, k), max(last, k)
		}
	}
	if first > last {
		return 0, riseCells - 1
	}
	return first, last
}

// sum returns mean and scatter of the ways within one step or, if these weigh
// less, of those beyond.
func (g *riseGrid) sum(floor float64) way {
	var sums [2][3]float64 // of weight, of way, of its square
	for k, w := range g.ways {
		s := &sums[0]
		if w > 1 {
			s = &sums[1]
		}
		s[0] += g.weights[k]
		s[1] += g.weights[k] * w
		s[2] += g.weights[k] * w * w
	}
	missed := sums[1][0] > sums[0][0]
	s := sums[0]
	if missed {
		s = sums[1]
	}
	if !(s[0] > 0) {
		return way{steps: max(0, min(1, g.ways[0])), u: floor}
	}
	mean := s[1] / s[0]
	return way{steps: mean, u: math.Sqrt(max(0, s[2]/s[0]-mean*mean) + floor*floor), missed: missed}
}

// motion is a first-order rise from rest: after a time s the way is
// top (s - tau (1 - exp(-s/tau))).
type motion struct {
	top, tau float64
}

// at returns the way after a time.
func (m *motion) at(s float64) float64 {
	shape, _ := m.shape(s)
	return m.top * shape
}

// shape is the way for a top speed of one, and its slope with the logarithm of
// tau, in a form that keeps its digits when s is much shorter than tau.
func (m *motion) shape(s float64) (way, slope float64) {
	x := s / m.tau
	if x < 1e-3 {
		return m.tau * x * x / 2 * (1 - x/3), -m.tau * x * x / 2 * (1 - 2*x/3)
	}
	e := math.Expm1(-x)
	return m.tau * (x + e), m.tau * (e + x*e + x)
}

// fit finds the top speed and the time constant for a rise that began lead before
// the first stamp, and returns the sum of squared misfits in steps. It starts
// from the tau that m holds and takes a few Gauss-Newton steps in its logarithm;
// the top speed is linear and is solved for at each (Golub and Pereyra, The
// differentiation of pseudo-inverses and nonlinear least squares problems whose
// variables separate, 1973, with Kaufman's simplification of 1975).
func (m *motion) fit(r *rise, scale, lead float64) float64 {
	misfit, change := m.project(r, scale, lead)
	for range 6 {
		next := motion{tau: max(0.01, min(100, m.tau*math.Exp(max(-1, min(1, change)))))}
		better, further := next.project(r, scale, lead)
		if better >= misfit {
			break
		}
		gain := misfit - better
		*m, misfit, change = next, better, further
		if gain < 0.01*misfit {
			break
		}
	}
	return misfit
}

// project finds the best top speed for the present tau. It returns the sum of
// squared misfits and the change of the logarithm of tau that should mend them.
func (m *motion) project(r *rise, scale, lead float64) (misfit, change float64) {
	way0, slope0 := m.shape(lead)
	var ww, wy, yy, ss, sw, sy float64
	for i := 1; i < r.points; i++ {
		w, s := m.shape(lead + (r.times[i]-r.times[0])/scale)
		w, s = w-way0, s-slope0
		y := r.steps[i]
		ww, wy, yy = ww+w*w, wy+w*y, yy+y*y
		ss, sw, sy = ss+s*s, sw+s*w, sy+s*y
	}
	m.top = wy / ww
	across := ss - sw*sw/ww // of the slope, across what the top speed can mend
	if across > 1e-15*ss {
		change = (sy - m.top*sw) / (m.top * across)
	}
	return max(0, yy-wy*wy/ww), change
}
