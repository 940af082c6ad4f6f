package standings

import (
	"math"
	"math/big"
)

// Closeness marks results that lie too close together to call.
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

// mark compares all rows that have a rank and a figure, of which at least one has an uncertainty: two are too
// close when their difference is at most the quantile times the root of the sum of their variances.
func (c *Closeness) mark(rows []Standing, variance map[string]*big.Rat) {
	quantile := new(big.Rat).SetFrac64(c.Quantile(), 1e6)
	square := new(big.Rat).Mul(quantile, quantile)
	for i := range rows {
		for j := range rows {
			a, b := &rows[i], &rows[j]
			if i == j || a.Rank == 0 || b.Rank == 0 || a.None || b.None || !c.parts(min(i, j), max(i, j)) {
				continue
			}
			spread := new(big.Rat).Add(variance[a.Entry], variance[b.Entry])
			if spread.Sign() == 0 {
				continue
			}
			difference := a.Figure.Sub(b.Figure).rat()
			if new(big.Rat).Mul(difference, difference).Cmp(spread.Mul(spread, square)) <= 0 {
				a.TooCloseTo = append(a.TooCloseTo, b.Entry)
			}
		}
	}
}

// parts says whether a line runs between two rows (from 0).
func (c *Closeness) parts(upper, lower int) bool {
	for _, line := range c.Lines {
		if upper < line && line <= lower {
			return true
		}
	}
	return len(c.Lines) == 0
}
