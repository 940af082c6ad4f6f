package fairness

import "math"

// MandelRow is the consistency of one bench (ISO 5725-2:1994, 7.3.1).
type MandelRow struct {
	// H is the bench's mean less the mean of the means, in standard deviations of
	// the means; NaN of fewer than two benches, or where all means are equal.
	H float64
	// K is the bench's spread over the pooled one; NaN where the bench has fewer
	// than two values, or nothing varies.
	K float64
	// WordH and WordK weigh them; empty where they do not apply. Below three
	// benches h has the same size for each and says nothing.
	WordH, WordK Word
}

// Mandel returns the consistency of every bench, in the order of Cells.
func (l Level) Mandel() []MandelRow {
	p := len(l.Cells)
	means := make([]float64, p)
	var squares sum
	spreads := 0 // benches that have a spread
	for i, c := range l.Cells {
		means[i] = c.Mean
		if c.N > 1 {
			squares.add(c.SD * c.SD)
			spreads++
		}
	}
	s := Summarise(means)
	h5, h1, k5, k1 := l.MandelCritical()
	rows := make([]MandelRow, p)
	for i, c := range l.Cells {
		rows[i] = MandelRow{H: math.NaN(), K: math.NaN()}
		if s.SD > 0 {
			rows[i].H = (c.Mean - s.Mean) / s.SD
		}
		if s.SD > 0 && p > 2 {
			rows[i].WordH = wordFor(math.Abs(rows[i].H), h5, h1)
		}
		if c.N > 1 && squares.value() > 0 {
			rows[i].K = c.SD * math.Sqrt(float64(spreads)/squares.value())
			if spreads > 1 {
				rows[i].WordK = wordFor(rows[i].K, k5, k1)
			}
		}
	}
	return rows
}

// MandelCritical returns the 5 % and 1 % points of h and of k, the latter for the
// commonest number of values; NaN where h or k says nothing.
func (l Level) MandelCritical() (h5, h1, k5, k1 float64) {
	h5, h1, k5, k1 = math.NaN(), math.NaN(), math.NaN(), math.NaN()
	if p := len(l.Cells); p > 2 {
		h5, h1 = CriticalH(p, 0.05), CriticalH(p, 0.01)
	}
	spreads := 0
	for _, c := range l.Cells {
		if c.N > 1 {
			spreads++
		}
	}
	if n := l.typicalN(); spreads > 1 {
		k5, k1 = CriticalK(spreads, n, 0.05), CriticalK(spreads, n, 0.01)
	}
	return h5, h1, k5, k1
}

// Cochran tests the largest spread: its variance over the sum of all (ISO
// 5725-2:1994, 7.3.3). Unequal numbers of values are read at the commonest one.
func (l Level) Cochran() Finding {
	var variances []float64
	var names []string
	for _, c := range l.Cells {
		if c.N > 1 {
			variances, names = append(variances, c.SD*c.SD), append(names, c.Name)
		}
	}
	return Cochran(names, variances, l.typicalN())
}

// Cochran tests whether the largest of several variances, each of n values,
// stands out from the rest.
func Cochran(names []string, variances []float64, n int) Finding {
	var total sum
	largest := 0
	for i, v := range variances {
		total.add(v)
		if v > variances[largest] {
			largest = i
		}
	}
	if len(variances) < 2 || n < 2 || !(total.value() > 0) {
		return Finding{}
	}
	p := len(variances)
	f := Finding{
		Who: names[largest : largest+1], Value: variances[largest] / total.value(),
		Critical5: CriticalCochran(p, n, 0.05), Critical1: CriticalCochran(p, n, 0.01),
	}
	f.Word = wordFor(f.Value, f.Critical5, f.Critical1)
	return f
}
