package simulate

import (
	"math"
	"math/rand/v2"
	"slices"
)

// Truth is what really happened in a run.
type Truth struct {
	// Turns and DistanceM from the start to the end of the race, parts of a turn included.
	Turns, DistanceM float64
	// MaxRPM is the highest speed that the roller reached between start and end.
	MaxRPM float64
	// Passes counts the steps from mark to mark between the first and the last
	// pass that gave a stamp.
	Passes int
	// EndUS is the end of the race on the bench's clock.
	EndUS int64
	// Doubles, Misses and Strays count the faults.
	Doubles, Misses, Strays int
	// FirstFault and LastFault are the passes, from 0, of the first and of the
	// last fault; -1 means none. Total counts all passes, seen or not.
	FirstFault, LastFault, Total int
}

// Train is the stamps of one run, in order, in µs on the bench's clock (not
// wrapped), with the truth.
type Train struct {
	Stamps []int64
	Truth  Truth
}

// maker builds a train pass by pass.
type maker struct {
	p       Params
	rng     *rand.Rand
	motion  *motion
	train   Train
	light   *rand.Rand // of the strays, so that these change nothing else
	stray   float64    // time of the next stray stamp
	skip    int        // passes of a burst still to be missed
	missed  bool       // the last pass
	first   int        // the first pass with a stamp; -1 before it
	last    int
	average float64 // time of a step now, s
	before  float64 // time of the last pass
}

// Run simulates one run. It takes about 0.1 µs a pass.
func Run(p Params) Train {
	if p.Marks == 0 {
		p.Marks = max(1, len(p.MarkAngles))
	}
	if p.StepUS == 0 {
		p.StepUS = 1
	}
	if p.TapePart == 0 {
		p.TapePart = 0.053
	}
	if p.TauS == 0 {
		p.TauS = 1e-9
	}
	m := &maker{p: p, rng: Source(p.Key), light: Source(p.Key ^ 0x5bd1e995), first: -1}
	m.train.Truth.FirstFault, m.train.Truth.LastFault = -1, -1
	m.train.Stamps = make([]int64, 0, int(p.RPM/60*(p.DurationS+p.TailS)*float64(p.Marks)*1.1)+64)
	m.run()
	return m.train
}

// run goes through all passes of marks and through start and end.
func (m *maker) run() {
	phase := m.p.Phase
	if phase < 0 {
		phase = m.rng.Float64()
	}
	m.motion = newMotion(m.p, m.rng)
	m.nextStray(m.motion.from)
	stop := m.p.DurationS + m.p.TailS
	startAngle, endAngle := 0.0, 0.0
	pass := 0
	next := m.angleOf(pass) - phase
	// Marks that stand behind the sensor at the beginning come a turn later.
	for next <= 0 {
		pass++
		next = m.angleOf(pass) - phase
	}
	offset := pass
	// Cell by cell, because the speed is a straight line within one: all passes of a cell are
	// found before the next is drawn.
	for m.motion.from < stop {
		for {
			at, ok := m.motion.reach(next)
			if !ok || at > stop {
				break
			}
			m.pass(at, pass-offset)
			pass++
			next = m.angleOf(pass) - phase
		}
		end := m.motion.from + cellS
		if m.motion.from <= 0 && end > 0 {
			startAngle = m.motion.at(0)
			// The truth counts from the signal, so the top speed begins anew there.
			m.motion.top = max(m.motion.speed, m.motion.next)
		}
		if m.motion.from < m.p.DurationS && end >= m.p.DurationS {
			endAngle = m.motion.at(m.p.DurationS)
			m.train.Truth.MaxRPM = m.motion.top * 60 * (1 + m.p.Ripple)
		}
		m.motion.step()
	}
	// Those behind the last pass; what lies between passes, pass has added.
	m.strays(stop)
	m.lamp(stop)
	m.edges()
	t := &m.train.Truth
	t.Turns = endAngle - startAngle
	t.DistanceM = t.Turns * m.p.CircumferenceMM / 1000
	t.EndUS = m.stamp(m.p.DurationS)
	t.Total = pass - offset
	if m.first >= 0 {
		t.Passes = m.last - m.first
	}
}

// angleOf returns the angle in turns of a pass.
func (m *maker) angleOf(pass int) float64 {
	turn, mark := pass/m.p.Marks, pass%m.p.Marks
	if len(m.p.MarkAngles) > 0 {
		return float64(turn) + m.p.MarkAngles[mark]/360
	}
	return float64(turn) + float64(mark)/float64(m.p.Marks)
}

// pass lets the sensor see one pass at a time in s, or miss it.
func (m *maker) pass(at float64, index int) {
	if m.before > 0 {
		m.average = at - m.before
	}
	m.before = at
	m.strays(at)
	// What hides a pass from the sensor comes first, and misses last: it draws from the source, and
	// whoever draws in another order makes other trains of the same key.
	switch {
	case m.p.FailAtS > 0 && at > m.p.FailAtS:
		return
	case m.p.FlickerHz > 0:
		return
	case m.remote(at):
		m.fault(index)
		return
	case m.p.HalfFromS > 0 && at > m.p.HalfFromS && index%2 == 1:
		m.fault(index)
		m.train.Truth.Misses++
		return
	case m.misses():
		m.fault(index)
		m.train.Truth.Misses++
		return
	}
	if m.first < 0 {
		m.first = index
	}
	m.last = index
	late := 0.0
	if m.p.DelayRate > 0 && m.rng.Float64() < m.p.DelayRate {
		late = 100 + (m.p.DelayUS-100)*m.rng.Float64()
	}
	if sigma := m.p.JitterUS + m.p.JitterPart*min(m.average, 0.5)*1e6; sigma > 0 {
		late += sigma * m.rng.NormFloat64()
	}
	seen := at + late/1e6
	m.emit(seen)
	m.doubles(seen, index)
}

// doubles adds the extra stamps after a pass.
func (m *maker) doubles(seen float64, index int) {
	chance := m.rng.Float64()
	switch {
	case chance < m.p.DoubleRate:
		m.fault(index)
		n, after := 1, 0.0
		for n < 3 && m.rng.Float64() < 0.3 {
			n++
		}
		for range n {
			after = 5 + 295*m.rng.Float64()
			m.emit(seen + after/1e6)
			m.train.Truth.Doubles++
		}
	case chance < m.p.DoubleRate+m.p.TrailRate && m.average > 0:
		m.fault(index)
		m.emit(seen + m.p.TapePart*m.average*float64(m.p.Marks))
		m.train.Truth.Doubles++
	case m.p.DoubleFromS > 0 && seen > m.p.DoubleFromS:
		m.fault(index)
		m.emit(seen + m.average/2)
		m.train.Truth.Doubles++
	}
}

// misses decides whether the next pass is missed.
func (m *maker) misses() bool {
	if m.skip > 0 {
		m.skip--
		return true
	}
	if m.missed {
		m.missed = false
		return false
	}
	if m.p.MissRate+m.p.BurstRate == 0 {
		return false
	}
	chance := m.rng.Float64()
	if chance < m.p.BurstRate {
		m.skip = 1 + m.rng.IntN(19)
		m.missed = true
		return true
	}
	m.missed = chance < m.p.BurstRate+m.p.MissRate
	return m.missed
}

// strays adds the stray stamps up to a time.
func (m *maker) strays(until float64) {
	for m.p.StrayPerS > 0 && m.stray < until {
		m.emit(m.stray)
		m.train.Truth.Strays++
		m.nextStray(m.stray)
	}
}

// nextStray draws the time of the next stray stamp.
func (m *maker) nextStray(from float64) {
	if m.p.StrayPerS > 0 {
		m.stray = from + m.rng.ExpFloat64()/m.p.StrayPerS
	}
}

// lamp adds the steady stamps of a lamp.
func (m *maker) lamp(until float64) {
	if m.p.FlickerHz <= 0 {
		return
	}
	for k := 1.0; k/m.p.FlickerHz < until; k++ {
		m.emit(k/m.p.FlickerHz + m.p.JitterUS*m.rng.NormFloat64()/1e6)
	}
}

// remote reports whether a time lies in the burst of a remote control.
func (m *maker) remote(at float64) bool {
	return m.p.RemoteS > 0 && at > m.p.RemoteAtS && at < m.p.RemoteAtS+m.p.RemoteS
}

// edges adds the stamps of the burst, one an edge: two a period.
func (m *maker) edges() {
	hz := m.p.RemoteHz
	if hz == 0 {
		hz = 38_000
	}
	if m.p.RemoteS == 0 {
		return
	}
	from := m.p.RemoteAtS + m.rng.Float64()/hz
	for k := 0.0; k < 2*hz*m.p.RemoteS; k++ {
		m.train.Stamps = append(m.train.Stamps, max(0, m.stamp(from+k/(2*hz))))
	}
	slices.Sort(m.train.Stamps)
}

// fault notes the pass of a fault.
func (m *maker) fault(index int) {
	if m.train.Truth.FirstFault < 0 {
		m.train.Truth.FirstFault = index
	}
	m.train.Truth.LastFault = index
}

// stamp turns a time in s after the signal into what the bench's clock shows.
func (m *maker) stamp(at float64) int64 {
	us := float64(m.p.StartUS) + at*1e6*(1+m.p.ClockPPM*1e-6)
	return int64(math.Floor(math.Floor(us/m.p.StepUS) * m.p.StepUS))
}

// emit stores a stamp in order of time.
func (m *maker) emit(at float64) {
	s := max(0, m.stamp(at))
	list := append(m.train.Stamps, s)
	for i := len(list) - 1; i > 0 && list[i-1] > s; i-- {
		list[i], list[i-1] = list[i-1], list[i]
	}
	m.train.Stamps = list
}
