package forecast

import (
	"math"
	"math/rand/v2"
	"slices"
)

// times is a sample's day on the benches.
type times struct {
	day    Day
	random *rand.Rand
	// slow is how much longer change-overs are on this day.
	slow    float64
	now     float64
	free    int
	last    float64 // end of the last heat so far
	running []onBench
	over    []onBench // those that ended just now, kept for its memory
	lines   []line
	// used is how long benches were used, each for itself.
	used float64
	// longest is the longest time so far between two races of a car.
	longest float64
}

// onBench is a heat that runs.
type onBench struct {
	line, round int
	cars        []int
	benches     int
	ends        float64
}

// line is a division on its way through its rounds.
type line struct {
	rounds []round
	// open is the first round that is not over; left and going count heats of rounds
	// not begun and running, by round.
	open        int
	left, going []int
	// ready is from when on the open round may be called.
	ready float64
	// cars holds from when on each car is free and rested; raced when its last race ended,
	// 0 for one that had none.
	cars, raced []float64
	// ahead is the bench time that is still to come.
	ahead float64
	spans []span
}

// span is the first start and the last end of a round.
type span struct{ start, end float64 }

func (d Day) newTimes(fields []raced, random *rand.Rand) *times {
	t := &times{day: d, random: random, now: d.Opens, last: d.Opens, free: d.Benches}
	t.slow = spread(random, d.DaySpread)
	for _, f := range fields {
		l := line{rounds: make([]round, len(f.rounds)), ready: d.Opens}
		l.cars, l.raced = make([]float64, len(f.places)), make([]float64, len(f.places))
		for i := range l.cars {
			l.cars[i] = d.Opens
		}
		for i, r := range f.rounds {
			l.rounds[i] = r
			l.left = append(l.left, len(r.heats))
			for _, h := range r.heats {
				l.ahead += float64(h.races*len(h.cars)) * (r.race + d.ChangeOver)
			}
		}
		l.going = make([]int, len(l.rounds))
		l.spans = make([]span, len(l.rounds))
		for i := range l.spans {
			l.spans[i].start = math.Inf(1)
		}
		t.lines = append(t.lines, l)
	}
	return t
}

// spread is a factor with a mean of 1 that scatters by sd: a lognormal one.
func spread(random *rand.Rand, sd float64) float64 {
	v := math.Log1p(sd * sd)
	return math.Exp(math.Sqrt(v)*random.NormFloat64() - v/2)
}

// run puts all heats onto the benches and returns when the last one ends.
func (t *times) run() float64 {
	for {
		for t.call() {
		}
		if !t.wait() {
			return t.last
		}
	}
}

// call starts one heat, of the division with most ahead of it that has one; false where
// none can start now.
func (t *times) call() bool {
	if t.free == 0 {
		return false
	}
	best, at, which := -1, 0, 0
	for i := range t.lines {
		if best >= 0 && t.lines[i].ahead <= t.lines[best].ahead {
			continue
		}
		if r, h, can := t.next(&t.lines[i]); can {
			best, at, which = i, r, h
		}
	}
	if best < 0 {
		return false
	}
	l := &t.lines[best]
	r := &l.rounds[at]
	h := r.heats[which]
	r.heats = slices.Delete(r.heats, which, which+1)
	l.left[at]--
	t.start(best, at, h)
	return true
}

// next is the first heat of a division that can be called now; those that are raced
// again fill benches that are left, or come when nothing else of the stage is there.
func (t *times) next(l *line) (at, which int, can bool) {
	if l.ready > t.now {
		return 0, 0, false
	}
	for _, again := range []bool{false, true} {
		for at = l.open; at < len(l.rounds) && (at == l.open || l.rounds[at].apart); at++ {
			for which, h := range l.rounds[at].heats {
				if h.again == again && t.benches(h) <= t.free && t.rested(l, h) && !t.stopped(l.rounds[at].race, h) {
					return at, which, true
				}
			}
		}
	}
	return 0, 0, false
}

func (t *times) benches(h heat) int { return min(len(h.cars), t.day.Benches) }

func (t *times) rested(l *line, h heat) bool {
	for _, car := range h.cars {
		if l.cars[car] > t.now {
			return false
		}
	}
	return true
}

// stopped says whether a heat that starts now would usually run into a stop.
func (t *times) stopped(race float64, h heat) bool {
	if len(t.day.Stops) == 0 {
		return false
	}
	turns := (len(h.cars) + t.day.Benches - 1) / t.day.Benches
	ends := t.now + float64(h.races*turns)*(race+t.day.ChangeOver)
	return slices.ContainsFunc(t.day.Stops, func(s Stop) bool { return t.now < s.To && ends > s.From })
}

// start puts a heat onto benches. A heat wider than there are benches runs in turns.
func (t *times) start(number, at int, h heat) {
	l := &t.lines[number]
	length := 0.0
	turns := (len(h.cars) + t.day.Benches - 1) / t.day.Benches
	for range h.races * turns {
		length += l.rounds[at].race + t.day.ChangeOver*t.slow*spread(t.random, t.day.HeatSpread)
	}
	o := onBench{number, at, h.cars, t.benches(h), t.now + length}
	t.free -= o.benches
	t.used += length * float64(o.benches)
	l.going[at]++
	l.spans[at].start = min(l.spans[at].start, t.now)
	l.ahead -= float64(h.races*len(h.cars)) * (l.rounds[at].race + t.day.ChangeOver)
	for _, car := range h.cars {
		if l.raced[car] > 0 {
			t.longest = max(t.longest, t.now-l.raced[car])
		}
		l.cars[car], l.raced[car] = o.ends+t.day.Rest, o.ends
	}
	t.running = append(t.running, o)
}

// wait goes on to when something changes: a heat ends, a round may be called, a car has
// rested. False where all is over.
func (t *times) wait() bool {
	next := math.Inf(1)
	for _, o := range t.running {
		next = min(next, o.ends)
	}
	for i := range t.lines {
		l := &t.lines[i]
		if l.open == len(l.rounds) {
			continue
		}
		if l.ready > t.now {
			next = min(next, l.ready)
		}
		if t.day.Rest > 0 {
			for _, until := range l.cars {
				if until > t.now {
					next = min(next, until)
				}
			}
		}
	}
	for _, s := range t.day.Stops {
		if s.To > t.now && t.left() {
			next = min(next, s.To)
		}
	}
	if math.IsInf(next, 1) {
		return false
	}
	t.now = next
	still, over := t.running[:0], t.over[:0]
	for _, o := range t.running {
		if o.ends <= t.now {
			over = append(over, o)
		} else {
			still = append(still, o)
		}
	}
	t.running, t.over = still, over
	for _, o := range over {
		t.end(o)
	}
	return true
}

// left says whether heats are still to be started.
func (t *times) left() bool {
	return slices.ContainsFunc(t.lines, func(l line) bool { return l.open < len(l.rounds) })
}

// end frees the benches of a heat, and closes its round where it was the last. Cars that
// race again do so before that, each by itself.
func (t *times) end(o onBench) {
	l := &t.lines[o.line]
	t.free += o.benches
	t.last = max(t.last, o.ends)
	l.going[o.round]--
	l.spans[o.round].end = max(l.spans[o.round].end, o.ends)
	for _, car := range o.cars {
		if t.random.Float64() < t.day.RerunRate {
			l.rounds[o.round].heats = append(l.rounds[o.round].heats, heat{cars: []int{car}, races: 1, again: true})
			l.left[o.round]++
			l.ahead += l.rounds[o.round].race + t.day.ChangeOver
		}
	}
	for l.open < len(l.rounds) && l.left[l.open] == 0 && l.going[l.open] == 0 {
		l.open++
		if l.open < len(l.rounds) && !l.rounds[l.open].apart {
			l.ready = t.now + t.day.Wait
		}
	}
}
