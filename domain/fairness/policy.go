package fairness

import (
	"math"
	"math/bits"

	"benchmeet/domain/refusal"
)

// Policy is what an organiser chooses to do about benches that differ. It is
// declared before the first heat, applied at declared points only, and never to
// results that are official.
type Policy string

// The policies.
const (
	Report  Policy = "report"   // say it, change nothing
	Correct Policy = "correct"  // divide by the bench's factor; both values are kept
	TakeOut Policy = "take-out" // no more runs on a bench that does not agree
)

// Check refuses a word that is no policy.
func (p Policy) Check() error {
	if p != Report && p != Correct && p != TakeOut {
		return refusal.New("policy-word", "policy", p)
	}
	return nil
}

// ppm is how many millionths a whole has.
const ppm = 1_000_000

// Adopted is the factor of a bench as a ruling takes it over: from then on it is
// part of the state and does not move when the fit is made again.
type Adopted struct {
	Bench string `json:"bench"`
	// FactorPPM is what the bench reads over the mean of all, in millionths: from
	// 500,000 to 2,000,000, and 1,000,000 for no correction.
	FactorPPM int64 `json:"factor_ppm"`
	// UPPM is the standard uncertainty of the factor, in millionths of it.
	UPPM int64 `json:"u_ppm"`
	// Degrees are the degrees of freedom behind it.
	Degrees int `json:"degrees"`
}

// Adopt returns the factors in whole numbers, in the order of benches. It
// refuses where there is no factor with an interval, or one that only a broken
// bench has.
func (f *Fit) Adopt() ([]Adopted, error) {
	if !f.Connected() || f.Degrees <= 0 || len(f.Benches) < 2 {
		return nil, refusal.New("study-short")
	}
	list := make([]Adopted, len(f.Benches))
	for i, b := range f.Benches {
		if !(b.Factor >= 0.5 && b.Factor <= 2) {
			return nil, refusal.New("factor-range", "bench", b.Name)
		}
		list[i] = Adopted{
			Bench: b.Name, FactorPPM: int64(math.Round(b.Factor * ppm)), UPPM: int64(math.Round(b.U * ppm)), Degrees: f.Degrees,
		}
	}
	return list, nil
}

// Corrected is a result with both its values, in the unit that was given.
type Corrected struct {
	AsRead    int64 `json:"as_read"`
	Corrected int64 `json:"corrected"`
}

// Apply divides a value of 0 or more by the factor and rounds half up, in whole
// numbers, so that every platform gives the same. A factor that was never
// adopted (zero) corrects nothing.
func (a Adopted) Apply(value int64) Corrected {
	if a.FactorPPM <= 0 || value < 0 {
		return Corrected{AsRead: value, Corrected: value}
	}
	factor := uint64(a.FactorPPM)
	high, low := bits.Mul64(uint64(value), ppm)
	low, carry := bits.Add64(low, factor/2, 0)
	high += carry
	if high >= factor {
		return Corrected{AsRead: value, Corrected: math.MaxInt64}
	}
	quotient, _ := bits.Div64(high, low, factor)
	return Corrected{AsRead: value, Corrected: int64(min(quotient, math.MaxInt64))}
}

// Worthwhile says whether correcting helps: whether the benches differ by more
// than chance (at the 5 % point). Where they do not, dividing by factors that
// are mostly noise makes results worse.
func (f *Fit) Worthwhile() bool { return f.PBenches < 0.05 }
