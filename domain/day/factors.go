package day

import (
	"math/big"
	"slices"

	"benchmeet/domain/fairness"
)

// FactorsInForce is the set by which open results are corrected, if there is one.
func (s *State) FactorsInForce() (FactorSet, bool) {
	if n := len(s.Factors); n > 0 && !s.Factors[n-1].Withdrawn {
		return s.Factors[n-1], true
	}
	return FactorSet{}, false
}

// factorsFor is the set that holds for a heat: that of its round where it was
// closed, else the one in force. An official result never changes.
func (s *State) factorsFor(h Heat) (FactorSet, bool) {
	if !s.RoundClosed(h) {
		return s.FactorsInForce()
	}
	n := s.Programmes[h.Division].Stages[h.Stage-1].Rounds[h.Round-1].Factors
	if n < 1 || n > len(s.Factors) {
		return FactorSet{}, false
	}
	return s.Factors[n-1], true
}

// Value is what a run is worth before penalties, as it was read and as it counts.
type Value struct {
	fairness.Corrected
	// UUM is the standard uncertainty of the corrected value in µm; that of the
	// factor is in it. 0 is not known: then nobody may decide by the value.
	UUM int64
	// LowUM and HighUM are the ends of its 95 % interval where that is lopsided.
	LowUM, HighUM *int64
	// Factor is what the value was divided by; zero where nothing was corrected.
	Factor fairness.Adopted
	// Set is the number of the factor set, 0 for none.
	Set int
}

// Value returns what a run is worth. What was counted by hand is no reading of the
// bench and is not corrected.
func (s *State) Value(r Run) Value {
	um, u := r.Figures.DistanceUM, r.Figures.UDistanceUM
	v := Value{Corrected: fairness.Corrected{AsRead: um, Corrected: um}, UUM: u}
	if low, high, there := r.Figures.Interval(); there && r.Figures.HighUM > 0 {
		v.LowUM, v.HighUM = &low, &high
	}
	if r.Figures.NoInterval {
		u, v.UUM = 0, 0
	}
	if len(s.Factors) == 0 || r.Source != SourceBench || r.Heat == "" {
		return v
	}
	set, there := s.factorsFor(s.Heats[r.Heat])
	if !there {
		return v
	}
	factor, there := set.of(r.Bench)
	if !there {
		return v
	}
	v.Corrected, v.Factor, v.Set = factor.Apply(um), factor, set.Number
	if !r.Figures.NoInterval {
		v.UUM = withFactor(factor.Apply(u).Corrected, v.Corrected.Corrected, factor.UPPM)
	}
	if v.LowUM != nil {
		// An end lies 1.96 standard uncertainties of the factor further out.
		value, u95 := v.Corrected.Corrected, factor.UPPM*196/100
		low := value - withFactor(value-factor.Apply(*v.LowUM).Corrected, value, u95)
		high := value + withFactor(factor.Apply(*v.HighUM).Corrected-value, value, u95)
		v.LowUM, v.HighUM = &low, &high
	}
	return v
}

// withFactor adds the uncertainty of a factor, in millionths, to that of a value:
// the root of the sum of squares of both (JCGM 100:2008 section 5.1.6), in whole
// numbers and rounded half up.
func withFactor(u, value, uPPM int64) int64 {
	const ppm = 1_000_000
	square := func(a, b int64) *big.Int { // (a b)²
		x := new(big.Int).Mul(big.NewInt(a), big.NewInt(b))
		return x.Mul(x, x)
	}
	// In units of µm/10^6: twice the root rounded down, then (2x+1)/2.
	sum := square(u, 2*ppm)
	sum.Add(sum, square(value, 2*uPPM))
	root := sum.Sqrt(sum)
	root.Quo(root, big.NewInt(ppm))
	return (root.Int64() + 1) / 2
}

// FactorsAdopted says by what results are divided.
type FactorsAdopted struct {
	Ruled
	Number  int                `json:"number"`
	Factors []fairness.Adopted `json:"factors"`
	Runs    int                `json:"runs"`
	FitUS   int64              `json:"fit_us"`
}

// Type is the name in the log.
func (FactorsAdopted) Type() string { return "FactorsAdopted" }

func (e FactorsAdopted) apply(s *State) {
	s.Factors = append(s.Factors[:len(s.Factors):len(s.Factors)], FactorSet{
		Number: e.Number, Factors: e.Factors, Runs: e.Runs, FitUS: e.FitUS, AtUS: s.TimeUS,
	})
	s.rule(e.Type(), e.Ruled, Ruling{Factors: e.Number})
}

// FactorsWithdrawn says that results are not divided any more.
type FactorsWithdrawn struct {
	Ruled
	Number int `json:"number"`
}

// Type is the name in the log.
func (FactorsWithdrawn) Type() string { return "FactorsWithdrawn" }

func (e FactorsWithdrawn) apply(s *State) {
	s.Factors = slices.Clone(s.Factors)
	s.Factors[e.Number-1].Withdrawn = true
	s.rule(e.Type(), e.Ruled, Ruling{Factors: e.Number})
}
