package fairness

import (
	"math"

	"gonum.org/v1/gonum/stat/distuv"
)

// Word says how well something fits in, in the words of ISO 5725-2 (7.3).
type Word string

// The words. A straggler is kept unless it is explained; an outlier asks a
// person to look, and to rule.
const (
	Fits      Word = "fits"
	Straggler Word = "straggler" // beyond the 5 % point
	Outlier   Word = "outlier"   // beyond the 1 % point
)

// Finding is a statistic beside its critical values. The zero value says that
// the test does not apply: too few benches, or no spread.
type Finding struct {
	// Who are the benches that the statistic is about.
	Who []string `json:"who,omitempty"`
	// Value is the statistic.
	Value float64 `json:"value"`
	// Critical5 and Critical1 are its 5 % and 1 % points.
	Critical5 float64 `json:"critical_5"`
	Critical1 float64 `json:"critical_1"`
	// Word is what follows.
	Word Word `json:"word"`
}

// wordFor weighs a statistic of which large values are suspicious.
func wordFor(value, critical5, critical1 float64) Word {
	switch {
	case value > critical1:
		return Outlier
	case value > critical5:
		return Straggler
	}
	return Fits
}

// CriticalH is the value that Mandel's h of p benches (at least 3) passes, either
// way, with the probability alpha (P.-T. Wilrich, Critical Values of Mandel's h
// and k, AStA Adv. Stat. Anal. 97, 2013).
func CriticalH(p int, alpha float64) float64 {
	n := float64(p)
	t := distuv.StudentsT{Sigma: 1, Nu: n - 2}.Quantile(1 - alpha/2)
	return (n - 1) * t / math.Sqrt(n*(t*t+n-2))
}

// CriticalK is the value that Mandel's k of p benches (at least 2) with n values
// each (at least 2) passes with the probability alpha (Wilrich 2013).
func CriticalK(p, n int, alpha float64) float64 {
	return math.Sqrt(float64(p) * largestShare(p, n, alpha))
}

// CriticalCochran is the value that the largest of p variances (at least 2), each
// of n values (at least 2), over their sum passes with the probability alpha.
func CriticalCochran(p, n int, alpha float64) float64 {
	return largestShare(p, n, alpha/float64(p))
}

// largestShare is the share of one variance in the sum of p that is passed with
// the probability alpha: 1/(1+(p-1)/F).
func largestShare(p, n int, alpha float64) float64 {
	within := float64(n - 1)
	f := distuv.F{D1: within, D2: float64(p-1) * within}.Quantile(1 - alpha)
	return 1 / (1 + float64(p-1)/f)
}

// CriticalGrubbs is the value that the largest deviation of p values (at least
// 3) over their standard deviation passes with the probability alpha; twoSided
// where either end may be the one that is looked at.
func CriticalGrubbs(p int, alpha float64, twoSided bool) float64 {
	n := float64(p)
	tail := alpha / n
	if twoSided {
		tail /= 2
	}
	t := distuv.StudentsT{Sigma: 1, Nu: n - 2}.Quantile(1 - tail)
	return (n - 1) / math.Sqrt(n) * math.Sqrt(t*t/(n-2+t*t))
}
