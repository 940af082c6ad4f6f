package dayplan

import (
	"cmp"
	"math"
	"math/rand/v2"
	"slices"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/stat/distuv"

	"benchmeet/domain/day"
)

// kind is a kind of length that is learned on the day.
type kind int

const (
	callKind kind = iota
	postKind
	changeKind
	drawKind
	kinds
)

// usual is the mean of each kind over all days, and how it scatters from heat to heat of one
// day, as a part of the mean.
var usual = [kinds]struct {
	us      int64
	scatter float64
}{{usualCallUS, 0.4}, {usualPostUS, 0.45}, {usualChangeUS, 0.45}, {usualDrawUS, 0.5}}

// Days differ, too. These are standard deviations of logarithms: of all that people do on a
// day, of one kind of it on that day, and of the calls of one division. They are what is
// believed before anything was seen (common practice: one hall takes half as long again as
// another), and count the less the more heats were.
const (
	daysDiffer      = 0.19
	kindsDiffer     = 0.15
	divisionsDiffer = 0.10
	// scatterHeats is as how many heats the usual scatter counts.
	scatterHeats = 12
	// desksDiffer is how much the rest of a day differs from a play of the same lengths,
	// because no desk calls quite as a play does.
	desksDiffer = 0.01
)

// group is what was seen of one kind of length, in one division where it is of calls: the
// lengths as parts of the usual. It is their mean that is learned, and not the middle of
// their logarithms: a day is as long as their sum, whatever the shape of their tail.
type group struct {
	kind          kind
	division      day.DivisionID
	n             int
	mean, squares float64
}

// see adds a length. It counts at least an eighth of the usual, so that one slip of a finger
// is not taken for how quick people are.
func (g *group) see(us int64) {
	x := float64(max(us, usual[g.kind].us/8)) / float64(usual[g.kind].us)
	g.n++
	d := x - g.mean
	g.mean += d / float64(g.n)
	g.squares += d * (x - g.mean)
}

// middle is the mean of the logarithm of what the lengths of a kind are on average on a day,
// over all days: on average over the days they are the usual ones.
func middle(k kind) float64 {
	v := daysDiffer*daysDiffer + kindsDiffer*kindsDiffer
	if k == callKind {
		v += divisionsDiffer * divisionsDiffer
	}
	return -v / 2
}

// belief is what is believed of the day once its heats were seen: a normal distribution of
// what it has of its own (all people, each kind, each division), and how each kind scatters.
// It is the posterior of a linear model with effects of three levels (A. Gelman and others,
// "Bayesian Data Analysis", 3rd edition 2013, chapters 5 and 15).
type belief struct {
	divisions map[day.DivisionID]int
	mean      *mat.VecDense
	// root times independent normal numbers scatters about the mean as is believed.
	root mat.TriDense
	// freedom and square are those of the scaled inverse chi-square of each kind's scatter.
	freedom, square [kinds]float64
}

// newBelief learns from what was seen. Its cost is cubic in the number of divisions.
func newBelief(r *Rest, seen []group) *belief {
	b := &belief{divisions: map[day.DivisionID]int{}}
	at := func(id day.DivisionID) {
		if _, there := b.divisions[id]; !there && id != "" {
			b.divisions[id] = 1 + int(kinds) + len(b.divisions)
		}
	}
	for _, x := range r.Rounds {
		at(x.Division)
	}
	seen = slices.DeleteFunc(slices.Clone(seen), func(g group) bool { return g.n == 0 })
	slices.SortFunc(seen, func(a, b group) int {
		return cmp.Or(cmp.Compare(a.kind, b.kind), cmp.Compare(a.division, b.division))
	})
	for _, g := range seen {
		at(g.division)
		b.freedom[g.kind] += max(0, float64(g.n-1))
		b.square[g.kind] += g.squares / (g.mean * g.mean)
	}
	for k := range kinds {
		b.square[k] = (b.square[k] + scatterHeats*usual[k].scatter*usual[k].scatter) / (b.freedom[k] + scatterHeats)
		b.freedom[k] += scatterHeats
	}
	n := 1 + int(kinds) + len(b.divisions)
	precision, pull := mat.NewSymDense(n, nil), mat.NewVecDense(n, nil)
	for i := range n {
		sd := divisionsDiffer
		switch {
		case i == 0:
			sd = daysDiffer
		case i <= int(kinds):
			sd = kindsDiffer
		}
		precision.SetSym(i, i, 1/(sd*sd))
	}
	for _, g := range seen {
		weight := float64(g.n) / b.square[g.kind]
		effects := b.effects(g.kind, g.division)
		for _, i := range effects {
			pull.SetVec(i, pull.AtVec(i)+weight*(math.Log(g.mean)-middle(g.kind)))
			for _, j := range effects {
				if i <= j {
					precision.SetSym(i, j, precision.At(i, j)+weight)
				}
			}
		}
	}
	var root, spread mat.Cholesky
	var covariance mat.SymDense
	b.mean = mat.NewVecDense(n, nil)
	// The prior alone makes the precision positive definite, so neither can fail.
	_ = root.Factorize(precision)
	_ = root.SolveVecTo(b.mean, pull)
	_ = root.InverseTo(&covariance)
	_ = spread.Factorize(&covariance)
	spread.LTo(&b.root)
	return b
}

// effects are the positions of what a kind of length has in it.
func (b *belief) effects(k kind, division day.DivisionID) []int {
	if i, there := b.divisions[division]; there && k == callKind {
		return []int{0, 1 + int(k), i}
	}
	return []int{0, 1 + int(k)}
}

// today is one day that is believed possible.
type today struct {
	effects *mat.VecDense
	scatter [kinds]float64
	b       *belief
}

// draw draws such a day.
func (b *belief) draw(random *rand.Rand) today {
	n := b.mean.Len()
	normal := mat.NewVecDense(n, nil)
	for i := range n {
		normal.SetVec(i, random.NormFloat64())
	}
	out := today{effects: mat.NewVecDense(n, nil), b: b}
	out.effects.MulVec(&b.root, normal)
	out.effects.AddVec(out.effects, b.mean)
	for k := range kinds {
		chi := distuv.ChiSquared{K: b.freedom[k], Src: random}.Rand()
		out.scatter[k] = math.Sqrt(b.freedom[k] * b.square[k] / chi)
	}
	return out
}

// length is the mean of a kind of length on that day, in µs. The division counts for calls.
func (t today) length(k kind, division day.DivisionID) float64 {
	x := middle(k)
	for _, i := range t.b.effects(k, division) {
		x += t.effects.AtVec(i)
	}
	return float64(usual[k].us) * math.Exp(x)
}

// about is a length about its mean, as they scatter on that day.
func (t today) about(mean float64, k kind, random *rand.Rand) int64 {
	return int64(mean * scatter(random, t.scatter[k]))
}
