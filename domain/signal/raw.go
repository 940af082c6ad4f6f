package signal

import "slices"

// raw is the steps between all stamps as they came, before anything is left out, each with
// what is usual around it.
type raw struct {
	steps []float64 // µs
	usual []float64 // the median of the steps around
}

// around is how many steps to each side say what is usual.
const around = 10

func newRaw(stamps []int64) raw {
	r := raw{steps: make([]float64, 0, len(stamps))}
	for i := 1; i < len(stamps); i++ {
		step := stamps[i] - stamps[i-1]
		if step < -1<<31 {
			step += 1 << 32 // the counter of 32 bits began again
		}
		r.steps = append(r.steps, float64(max(0, step)))
	}
	r.usual = make([]float64, len(r.steps))
	var window []float64
	for i := range r.steps {
		window = append(window[:0], r.steps[max(0, i-around):min(len(r.steps), i+around+1)]...)
		slices.Sort(window)
		r.usual[i] = window[len(window)/2]
	}
	return r
}

// split is the part of the steps that are cut in two by a stamp that is too many and no
// echo: with the next one they make one usual step. Stamps that scatter never do that.
func (r raw) split() float64 {
	n := 0
	for i := 1; i < len(r.steps); i++ {
		a, b := r.steps[i-1]/r.usual[i], r.steps[i]/r.usual[i]
		if 0.8 < a+b && a+b < 1.2 && min(a, b) > echoPart {
			n++
		}
	}
	return float64(n) / float64(max(1, len(r.steps)))
}

// crowds says whether stamps came in rows much closer together than passes do, as no edge
// of a mark makes them.
func (r raw) crowds() bool {
	const row = 12
	in := 0
	for i, s := range r.steps {
		// In a crowd the usual step is short as well: what no roller makes counts too.
		if s < 0.15*r.usual[i] || s < 500 {
			in++
		} else {
			in = 0
		}
		if in >= row {
			return true
		}
	}
	return false
}
