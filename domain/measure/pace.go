package measure

import "math"

const (
	// paceSteps is how many passes a pace rests on at most, paceUS the time that they
	// may cover where they are more than paceLeast.
	paceSteps = 24
	paceLeast = 6
	paceUS    = 200_000
)

// pace is how a roller moves at the moment of a pass, from the passes beside it.
type pace struct {
	at    int64   // µs
	phase float64 // steps by which the fitted roller is beyond that pass
	speed float64 // steps a µs
	accel float64 // steps a µs²
	// Standard uncertainties of phase and speed.
	uPhase, uSpeed float64
}

// points are passes for a fit: times in µs from the one that is asked about, and
// steps from it. They are few, and kept in place so that nothing is allocated.
type points struct {
	n     int
	times [paceSteps]float64
	steps [paceSteps]float64
}

func (p *points) add(time, step float64) {
	if p.n < paceSteps {
		p.times[p.n], p.steps[p.n] = time, step
		p.n++
	}
}

// fit fits phase and speed to the points by least squares, with an acceleration
// where the points show one: it must be three times its own uncertainty. Times are
// scaled by the longest so that the equations keep their digits.
func (p *points) fit(at int64) pace {
	scale := 0.0
	for _, x := range p.times[:p.n] {
		scale = max(scale, math.Abs(x))
	}
	if p.n < 2 || scale == 0 {
		return pace{at: at}
	}
	// The sums that the normal equations of both fits need, the line's and the curve's.
	var power [5]float64
	var product [3]float64
	for i := range p.n {
		x, y := p.times[i]/scale, p.steps[i]
		q := 1.0
		for k := range power {
			power[k] += q
			if k < 3 {
				product[k] += q * y
			}
			q *= x
		}
	}
	line := p.solve(power, product, 2, scale)
	// Three coefficients and what they are sure to cannot be had of fewer.
	if p.n >= 6 {
		if curve := p.solve(power, product, 3, scale); math.Abs(curve.c[2]) > 3*curve.u[2] {
			line = curve
		}
	}
	return pace{
		at: at, phase: line.c[0], speed: line.c[1] / scale, accel: 2 * line.c[2] / (scale * scale),
		uPhase: line.u[0], uSpeed: line.u[1] / scale,
	}
}

// polynomial holds the coefficients of a fit with their standard uncertainties.
type polynomial struct{ c, u [3]float64 }

// solve solves the normal equations of a fit with m coefficients.
func (p *points) solve(power [5]float64, product [3]float64, m int, scale float64) polynomial {
	var a [3][6]float64 // the matrix beside the unit matrix
	for i := range m {
		for j := range m {
			a[i][j] = power[i+j]
		}
		a[i][3+i] = 1
	}
	for i := range m { // the matrix is positive definite: no pivots are needed
		inverse := 1 / a[i][i]
		for j := range a[i] {
			a[i][j] *= inverse
		}
		for k := range m {
			if f := a[k][i]; k != i {
				for j := range a[k] {
					a[k][j] -= f * a[i][j]
				}
			}
		}
	}
	var out polynomial
	for i := range m {
		for j := range m {
			out.c[i] += a[i][3+j] * product[j]
		}
	}
	squares := 0.0
	for i := range p.n {
		x := p.times[i] / scale
		off := p.steps[i] - out.c[0] - (out.c[1]+out.c[2]*x)*x
		squares += off * off
	}
	variance := squares / float64(max(1, p.n-m))
	for i := range m {
		out.u[i] = math.Sqrt(max(0, a[i][3+i]*variance))
	}
	return out
}

// pace returns how the roller moves at the last pass, from the passes before it.
func (t *Tracker) pace() pace {
	var p points
	have := min(t.steps-t.window.begun, paceSteps-1)
	for k := range have + 1 {
		time := float64(t.window.times[(t.steps-k)&ringMask] - t.last)
		if k > paceLeast && -time > paceUS {
			break
		}
		p.add(time, -t.marks.spanned(t.markAt(t.steps-k), int(k)))
	}
	out := p.fit(t.last)
	if p.n < 4 && t.pred > 0 {
		// Too few passes to fit: the prediction knows more.
		out = pace{at: t.last, speed: 1 / t.pred, uPhase: 0.02, uSpeed: 0.03 / t.pred}
	}
	return out
}
