package standings

import (
	"math"
	"math/big"
)

// Closeness marks results that lie too close together to call.
//
// Two are too close when their difference is at most the quantile of the confidence times the root of the sum of two
// variances: of the greater one towards below and of the lesser one towards above. A side on which a figure is open
// reaches any distance, so a run of which only a lower bound is known is too close to all that are ahead of it. A figure
// of which nothing is known has no reach to compare: it is too close to its neighbours in the table. Two
// that are exact are never too close.
type Closeness struct {
	// Confidence is in thousandths, from 1 to 999; 950 is usual.
	Confidence int
	// Lines, when not empty, are the numbers of rows after which a line is drawn (prizes, qualifying): only
	// entries on different sides of a line are marked. The mark is not transitive, and everywhere it helps
	// nobody, so a programme draws lines.
	Lines []int
}

func (c *Closeness) check() error {
	if c == nil {
		return nil
	}
	if c.Confidence < 1 || c.Confidence > 999 {
		return refuse("the confidence must be above 0 and below 1 in steps of 0.001, 0.95 is usual")
	}
	for _, line := range c.Lines {
		if line < 1 {
			return refuse("a line cannot be drawn after row %d", line)
		}
	}
	return nil
}

// Quantile returns the two-sided quantile of the normal distribution for the confidence, in millionths: 1959964
// for 950. It is a whole number so that every platform marks the same.
func (c *Closeness) Quantile() int64 {
	return int64(math.Round(math.Sqrt2 * math.Erfinv(float64(c.Confidence)/1000) * 1e6))
}

// quantile95 is the two-sided quantile of 95 % in millionths, by which an end of an interval becomes a standard
// uncertainty.
var (
	quantile95 = (&Closeness{Confidence: 950}).Quantile()
	margin95   = big.NewRat(quantile95, 1e6)
)

// margins are how far the truth of a figure may lie below and above it, as variances; nil where that side is open.
type margins struct{ below, above *big.Rat }

// unknown says that nothing is known on either side.
func (m margins) unknown() bool { return m.below == nil && m.above == nil }

// exact says that there is nothing to be off on either side.
func (m margins) exact() bool {
	return m.below != nil && m.above != nil && m.below.Sign() == 0 && m.above.Sign() == 0
}

// margins of a run: each side by its end of the interval, else by U.
func (r Run) margins() margins {
	side := func(end *int64) *big.Rat {
		width := new(big.Rat)
		switch {
		case end != nil:
			width.Quo(width.SetInt64(r.Value-*end), margin95)
		case r.U > 0 || r.Exact:
			width.SetInt64(r.U)
		default:
			return nil
		}
		return width.Mul(width, width)
	}
	return margins{side(r.Low), side(r.High)}
}

// margins of the figure that a rule makes of the runs, which are taken as independent. A side is open where it is for
// one of those runs; and the better side, where a run that does not count yet may be better than it shows, since then it
// might have counted.
func (t *timed) margins(rule Rule) margins {
	runs, divisor := t.used(rule)
	m := margins{new(big.Rat), new(big.Rat)}
	add := func(sum, of *big.Rat) *big.Rat {
		if sum == nil || of == nil {
			return nil
		}
		return sum.Add(sum, of)
	}
	for _, r := range runs {
		of := r.margins()
		m.below, m.above = add(m.below, of.below), add(m.above, of.above)
	}
	// The figure is a sum over a divisor, so its variance is over the square of it.
	square := new(big.Rat).SetInt64(divisor * divisor)
	for _, sum := range []*big.Rat{m.below, m.above} {
		if sum != nil {
			sum.Quo(sum, square)
		}
	}
	if rule == Best || rule == BestTwo || rule == Median {
		for _, r := range t.best {
			switch of := r.margins(); {
			case of.unknown():
			case t.better == More && of.above == nil:
				m.above = nil
			case t.better == Less && of.below == nil:
				m.below = nil
			}
		}
	}
	return m
}

// TooClose compares two single runs as neighbours, whatever the lines: whoever has two results and no table asks here.
// It is false where one of them is no run.
func (c *Closeness) TooClose(a, b Run) bool {
	if a.None || b.None {
		return false
	}
	return c.close(Whole(a.Value), Whole(b.Value), a.margins(), b.margins(), true)
}

// close compares two figures, which are neighbours in the table or not.
func (c *Closeness) close(a, b Fraction, ofA, ofB margins, neighbours bool) bool {
	if ofA.unknown() || ofB.unknown() {
		return neighbours
	}
	greater, less := ofA, ofB
	switch a.Cmp(b) {
	case 0:
		return !ofA.exact() || !ofB.exact()
	case -1:
		greater, less = ofB, ofA
	}
	if greater.below == nil || less.above == nil {
		return true
	}
	spread := new(big.Rat).Add(greater.below, less.above)
	quantile := new(big.Rat).SetFrac64(c.Quantile(), 1e6)
	difference := a.Sub(b).rat()
	return difference.Mul(difference, difference).Cmp(spread.Mul(spread, quantile.Mul(quantile, quantile))) <= 0
}
