package meet_test

import (
	"strings"

	"benchmeet/domain/day"
	"benchmeet/domain/fairness"
	"benchmeet/domain/meet"
)

func init() {
	verbs["adopt"] = (*toldDay).adopt
	verbs["withdraw-factors"] = func(d *toldDay) {
		d.do(meet.WithdrawFactors{Reason: d.reason(day.ReasonBenches)})
	}
}

// adopt b1=1020000 b2=990000/3000: factors in millionths, with a standard
// uncertainty that is 2000 millionths where none is given.
func (d *toldDay) adopt() {
	c := meet.AdoptFactors{Runs: 48, FitUS: d.now, Reason: d.reason(day.ReasonBenches)}
	for _, arg := range d.td.CmdArgs {
		if !strings.HasPrefix(arg.Key, "b") {
			continue
		}
		factor, u, given := strings.Cut(arg.Vals[0], "/")
		a := fairness.Adopted{Bench: arg.Key, FactorPPM: int64(d.number(factor)), UPPM: 2000, Degrees: 30}
		if given {
			a.UPPM = int64(d.number(u))
		}
		c.Factors = append(c.Factors, a)
	}
	d.do(c)
}
