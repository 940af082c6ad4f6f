package fairness

import (
	"math"

	"gonum.org/v1/gonum/mat"
)

// equations are those of the levels of benches and rounds, the cars eliminated. The
// benches are the first columns, the rounds the others; the rounds are swept out of
// them (the sweep operator of J. H. Goodnight, "A Tutorial on the SWEEP Operator", Am.
// Stat. 33, 1979, from memory), each but those that the rounds before and the cars settle.
type equations struct {
	benches, all int
	// swept holds the inverse of the rounds among themselves, what each bench gives to
	// the rounds, and among the benches what is left of their own equations.
	swept *mat.Dense
	told  int     // rounds that were swept
	most  float64 // runs of a column
	// factorised are the equations of the benches, their sum set to zero.
	factorised mat.Cholesky
}

// settled is the part of its runs below which nothing but rounding is left of a round
// or of a difference of benches.
const settled = 1e-9

// equations sets them up and sweeps the rounds.
func (g *bipartite) equations() *equations {
	e := &equations{benches: len(g.benches), all: len(g.in)}
	m := mat.NewDense(e.all, e.all, nil)
	add := func(a, b int, v float64) { m.Set(a, b, m.At(a, b)+v) }
	for k, runs := range g.in {
		e.most = max(e.most, runs)
		add(k, k, runs)
	}
	for i, b := range g.benchOf {
		if round := g.roundOf[i]; round >= 0 {
			add(b, round, 1)
			add(round, b, 1)
		}
	}
	// The cars taken out: each takes from two columns what its runs in them share.
	for i, list := range g.met {
		for _, a := range list {
			for _, b := range list {
				add(a.column, b.column, -a.runs*b.runs/g.ofCar[i])
			}
		}
	}
	e.swept = m
	for k := e.benches; k < e.all; k++ {
		e.sweep(k, settled*g.in[k])
	}
	return e
}

// sweep takes a round out of the equations; one of which nothing is left has no level
// of its own and takes zero.
func (e *equations) sweep(k int, nothing float64) {
	m := e.swept
	pivot := m.At(k, k)
	if pivot <= nothing {
		for i := range e.all {
			m.Set(i, k, 0)
			m.Set(k, i, 0)
		}
		return
	}
	e.told++
	for i := range e.all {
		if i == k {
			continue
		}
		part := m.At(i, k) / pivot
		for j := range e.all {
			if j != k {
				m.Set(i, j, m.At(i, j)-part*m.At(k, j))
			}
		}
		m.Set(i, k, -part)
	}
	for j := range e.all {
		if j != k {
			m.Set(k, j, m.At(k, j)/pivot)
		}
	}
	m.Set(k, k, 1/pivot)
}

// roundsTold is how many levels of rounds were fitted.
func (e *equations) roundsTold() int { return e.told }

// own returns what is left of the equations of the benches.
func (e *equations) own() *mat.SymDense {
	s := mat.NewSymDense(e.benches, nil)
	for a := range e.benches {
		for b := a; b < e.benches; b++ {
			s.SetSym(a, b, (e.swept.At(a, b)+e.swept.At(b, a))/2)
		}
	}
	return s
}

// comparable returns the benches by what can be compared with each other, in the order
// of their names: two are where the equations settle the difference of their levels,
// so where no combination of levels that the equations leave open has them apart.
func (e *equations) comparable(names []string) [][]string {
	groups := [][]string{}
	var open mat.Dense
	var values []float64
	if e.all > e.benches { // Without rounds the cars have tied them already.
		var eigen mat.EigenSym
		if eigen.Factorize(e.own(), true) {
			values = eigen.Values(nil)
			eigen.VectorsTo(&open)
		}
	}
	alike := func(a, b int) bool {
		for k, v := range values {
			if v < settled*e.most && math.Abs(open.At(a, k)-open.At(b, k)) > 1e-6 {
				return false
			}
		}
		return true
	}
	var first []int
next:
	for b, name := range names {
		for g, a := range first {
			if alike(a, b) {
				groups[g] = append(groups[g], name)
				continue next
			}
		}
		first, groups = append(first, b), append(groups, []string{name})
	}
	return groups
}

// solve returns the levels of benches and rounds, and what the benches' equations have on
// their right side when the rounds are taken out. Only differences are fixed: adding 1/p
// to every element of the benches' equations also sets the sum of their levels to zero
// and leaves the differences as they are.
func (e *equations) solve(right []float64) (levels, left []float64) {
	p := e.benches
	own := e.own()
	left = append(left, right[:p]...)
	for a := range p {
		for b := a; b < p; b++ {
			own.SetSym(a, b, own.At(a, b)+1/float64(p))
		}
		for k := p; k < e.all; k++ {
			left[a] -= e.swept.At(k, a) * right[k]
		}
	}
	e.factorised.Factorize(own) // positive definite, as the benches can be compared
	var benches mat.VecDense
	_ = e.factorised.SolveVecTo(&benches, mat.NewVecDense(p, append([]float64(nil), left...))) // conditions are those of counts
	levels = append(levels, benches.RawVector().Data...)
	for k := p; k < e.all; k++ {
		level := 0.0
		for j := p; j < e.all; j++ {
			level += e.swept.At(k, j) * right[j]
		}
		for b := range p {
			level -= e.swept.At(k, b) * levels[b]
		}
		levels = append(levels, level)
	}
	return levels, left
}

// spread returns the covariance of all levels over the variance of noise, after solve.
func (e *equations) spread() *mat.SymDense {
	p, n := e.benches, e.all
	var inverse mat.SymDense
	_ = e.factorised.InverseTo(&inverse)
	out := mat.NewSymDense(n, nil)
	for a := range p {
		for b := a; b < p; b++ {
			out.SetSym(a, b, inverse.At(a, b)-1/float64(p))
		}
	}
	for k := p; k < n; k++ { // A round's level takes part of each bench's.
		for b := range p {
			v := 0.0
			for a := range p {
				v -= e.swept.At(k, a) * out.At(a, b)
			}
			out.SetSym(b, k, v)
		}
	}
	for k := p; k < n; k++ {
		for j := p; j <= k; j++ {
			v := (e.swept.At(k, j) + e.swept.At(j, k)) / 2
			for a := range p {
				v -= e.swept.At(k, a) * out.At(a, j)
			}
			out.SetSym(j, k, v)
		}
	}
	return out
}

// centreRounds shifts the levels of rounds that the same cars tie together so that the
// mean over their runs is zero: only differences of them are fixed.
func (g *bipartite) centreRounds(levels []float64) {
	p := len(g.benches)
	g.tie(p, len(g.in))
	sums, runs := map[int]float64{}, map[int]float64{}
	for k := p; k < len(g.in); k++ {
		root := g.root(k)
		sums[root] += g.in[k] * levels[k]
		runs[root] += g.in[k]
	}
	for k := p; k < len(g.in); k++ {
		levels[k] -= sums[g.root(k)] / runs[g.root(k)]
	}
}

// sameRounds says whether rounds tie two cars together, after centreRounds; where there
// are no rounds all are.
func (g *bipartite) sameRounds(car, other int) bool {
	return len(g.rounds) == 0 || g.root(len(g.in)+car) == g.root(len(g.in)+other)
}
