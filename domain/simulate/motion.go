package simulate

import (
	"math"
	"math/rand/v2"
)

// cellS is the length in s of a cell; the speed is linear within one.
const cellS = 0.005

// motion follows the roller, cell by cell. Angles are in turns and leave out the
// ripple, which rippled adds.
type motion struct {
	p       Params
	rng     *rand.Rand
	cell    int
	from    float64 // start of the cell, s after the signal
	angle   float64 // at from
	speed   float64 // at from, turns per s
	next    float64 // speed at the end of the cell
	wander  float64
	keep    float64 // of the wander from cell to cell
	kick    float64
	ripple  float64 // amplitude in turns
	perTurn float64 // radians of the ripple per turn
	shift   float64
	top     float64 // highest speed so far
	coast   float64 // part of the speed left when the car is off the rollers
}

// newMotion starts a roller at rest before the signal and before any movement.
func newMotion(p Params, rng *rand.Rand) *motion {
	m := &motion{p: p, rng: rng, from: min(0, p.ReactionS), coast: 1}
	ratio := p.WheelRatio
	if ratio == 0 {
		ratio = 1.25
	}
	m.perTurn = 2 * math.Pi * ratio
	m.ripple = p.Ripple / m.perTurn
	m.shift = 2 * math.Pi * rng.Float64()
	correlation := p.WanderS
	if correlation == 0 {
		correlation = 0.5
	}
	m.keep = math.Exp(-cellS / correlation)
	m.kick = p.Wander * math.Sqrt(1-m.keep*m.keep)
	m.wander = p.Wander * rng.NormFloat64()
	m.speed = m.speedAt(m.from)
	m.next = m.speedAt(m.from + cellS)
	m.top = max(m.speed, m.next)
	return m
}

// step goes to the next cell.
func (m *motion) step() {
	m.angle += (m.speed + m.next) / 2 * cellS
	m.cell++
	m.from = min(0, m.p.ReactionS) + float64(m.cell)*cellS
	m.wander = m.keep*m.wander + m.kick*m.rng.NormFloat64()
	m.speed, m.next = m.next, m.speedAt(m.from+cellS)
	m.top = max(m.top, m.next)
}

// speedAt is the speed at a time, in turns a second.
func (m *motion) speedAt(at float64) float64 {
	moving := at - m.p.ReactionS
	if moving <= 0 {
		return 0
	}
	v := m.p.RPM / 60
	if moving < 40*m.p.TauS {
		v *= -math.Expm1(-moving / m.p.TauS)
	}
	v *= 1 - m.p.SagFast*-math.Expm1(-moving/15) - m.p.SagPerS*moving
	v *= 1 + m.wander
	if m.p.StallAtS > 0 && at > m.p.StallAtS {
		v *= m.stopping(at - m.p.StallAtS)
	}
	if m.p.OffAtS > 0 && at > m.p.OffAtS {
		if m.p.BackAtS > 0 && at > m.p.BackAtS {
			m.coast += (1 - m.coast) * cellS / 0.3
		} else {
			m.coast = max(0, m.coast-(m.coast/3+0.05)*cellS)
		}
		v *= m.coast
	}
	return max(0, v)
}

// reach returns the time at which the rippled angle reaches a value that lies
// ahead, or false if the cell ends before.
func (m *motion) reach(angle float64) (float64, bool) {
	plain := m.plain(angle)
	way := plain - m.angle
	if way > (m.speed+m.next)/2*cellS {
		return 0, false
	}
	accel := (m.next - m.speed) / cellS
	root := math.Sqrt(max(0, m.speed*m.speed+2*accel*way))
	if way <= 0 || m.speed+root == 0 {
		return m.from, true
	}
	return m.from + min(cellS, 2*way/(m.speed+root)), true
}

// at returns the rippled angle at a time within the cell.
func (m *motion) at(time float64) float64 {
	dt := time - m.from
	return m.rippled(m.angle + m.speed*dt + (m.next-m.speed)/cellS*dt*dt/2)
}

// rippled adds the ripple to an angle.
func (m *motion) rippled(plain float64) float64 {
	if m.ripple == 0 {
		return plain
	}
	return plain + m.ripple*(math.Sin(m.perTurn*plain+m.shift)-math.Sin(m.shift))
}

// plain takes the ripple out of an angle, by two rounds of fixed-point steps:
// the error is of the third order in the ripple.
func (m *motion) plain(rippled float64) float64 {
	if m.ripple == 0 {
		return rippled
	}
	rest := math.Sin(m.shift)
	x := rippled
	for range 2 {
		x = rippled - m.ripple*(math.Sin(m.perTurn*x+m.shift)-rest)
	}
	return x
}

// stopping is the part of the speed that is left some time after a stop began.
func (m *motion) stopping(since float64) float64 {
	if m.p.StopTauS == 0 {
		return max(0, 1-since/0.2)
	}
	if left := math.Exp(-since / m.p.StopTauS); left > 0.01 {
		return left
	}
	return 0
}
