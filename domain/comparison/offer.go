package comparison

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"

	"benchmeet/domain/day"
	"benchmeet/domain/fairness"
	"benchmeet/domain/meet"
)

// Offer is what may be adopted now.
type Offer struct {
	Factors []fairness.Adopted
	// Code names the factors by their content, so that an official adopts what was
	// looked at and nothing else.
	Code string
}

// Offer returns the factors that may be adopted, or why not. It asks the rules of the
// meet themselves, so that a page never offers what an order would refuse. What the
// rules refuse comes with the factors.
func (r *Report) Offer(s *day.State) (Offer, error) {
	adopted, err := r.Adopt()
	if err != nil {
		return Offer{}, err
	}
	out := Offer{Factors: adopted, Code: offerCode(adopted)}
	_, err = meet.Decide(s, r.adopting(out, day.Reason{Code: day.ReasonBenches}), meet.Meta{NowUS: s.TimeUS})
	return out, err
}

// Adopting is the command that adopts the factors of an offer by its code. Where there
// is no such offer any more, the command says so when it is decided on.
func (r *Report) Adopting(code string, why day.Reason) meet.AdoptFactors {
	adopted, err := r.Adopt()
	if err != nil || offerCode(adopted) != code {
		return meet.AdoptFactors{Reason: why, Moved: true}
	}
	return r.adopting(Offer{Factors: adopted}, why)
}

func (r *Report) adopting(o Offer, why day.Reason) meet.AdoptFactors {
	return meet.AdoptFactors{Factors: o.Factors, Runs: r.Fit.Runs, FitUS: r.NewestUS(), Reason: why}
}

func offerCode(adopted []fairness.Adopted) string {
	sum := sha256.Sum256(fmt.Append(nil, adopted))
	return hex.EncodeToString(sum[:8])
}
