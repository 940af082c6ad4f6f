package meet

import (
	"slices"

	"benchmeet/domain/day"
	"benchmeet/domain/fairness"
	"benchmeet/domain/refusal"
)

// AdoptFactors takes the factors of a comparison of the benches over: a ruling
// under the policy to correct, between two heats. Results that are not official
// are divided by them from then on; both values are kept.
type AdoptFactors struct {
	Factors []fairness.Adopted // by bench id
	Runs    int
	FitUS   int64
	// Moved says that the comparison is another by now than the one that the official
	// looked at: nothing is adopted that nobody has seen.
	Moved  bool
	Reason day.Reason
}

// mostFactorPPM bounds a factor and, below one, its reciprocal: as fairness adopts.
const (
	leastFactorPPM = 500_000
	mostFactorPPM  = 2_000_000
)

func (c AdoptFactors) decide(s *day.State, m Meta) ([]day.Event, error) {
	if err := s.MustBePlanned(); err != nil {
		return nil, err
	}
	ruled, err := ruledBy(s, m, c.Reason)
	if err != nil {
		return nil, err
	}
	if s.Rules.Benches != day.BenchCorrect {
		return nil, refusal.New("factors-policy", "policy", s.Rules.Benches)
	}
	if c.Moved {
		return nil, refusal.New("factors-moved")
	}
	if len(c.Factors) < 2 {
		return nil, refusal.New("study-short")
	}
	for i, f := range c.Factors {
		b, err := s.Bench(day.BenchID(f.Bench))
		switch {
		case err != nil:
			return nil, err
		case f.FactorPPM < leastFactorPPM || f.FactorPPM > mostFactorPPM || f.UPPM < 0 || f.UPPM > mostFactorPPM:
			return nil, refusal.New("factor-range", "bench", b.Number)
		case slices.ContainsFunc(c.Factors[:i], func(o fairness.Adopted) bool { return o.Bench == f.Bench }):
			return nil, refusal.New("bench-twice", "bench", b.ID)
		}
	}
	if now, there := s.FactorsInForce(); there && slices.Equal(now.Factors, c.Factors) {
		return nil, nil
	}
	if err := betweenHeats(s); err != nil {
		return nil, err
	}
	return andPostAll(s, m, provisional(s), day.FactorsAdopted{
		Ruled: ruled, Number: len(s.Factors) + 1, Factors: c.Factors, Runs: c.Runs, FitUS: c.FitUS,
	}), nil
}

// betweenHeats refuses while a heat is at the benches: nobody's result may be
// divided by another factor than it was raced for.
func betweenHeats(s *day.State) error {
	for _, h := range s.SortedHeats() {
		if h.Phase == day.PhaseCalled || h.Phase == day.PhaseRacing {
			return refusal.New("factors-heat", "heat", h.ID, "status", h.Phase)
		}
	}
	return nil
}

// provisional are the heats whose result is posted and not official.
func provisional(s *day.State) []day.Heat {
	return slices.DeleteFunc(s.SortedHeats(), func(h day.Heat) bool { return h.Phase != day.PhaseProvisional })
}

// WithdrawFactors takes the factors in force back: results that are not official
// count as they were read.
type WithdrawFactors struct {
	Reason day.Reason
}

func (c WithdrawFactors) decide(s *day.State, m Meta) ([]day.Event, error) {
	ruled, err := ruledBy(s, m, c.Reason)
	if err != nil {
		return nil, err
	}
	now, there := s.FactorsInForce()
	if !there {
		if len(s.Factors) > 0 {
			return nil, nil // withdrawn already
		}
		return nil, refusal.New("factors-none")
	}
	if err := betweenHeats(s); err != nil {
		return nil, err
	}
	return andPostAll(s, m, provisional(s), day.FactorsWithdrawn{Ruled: ruled, Number: now.Number}), nil
}
