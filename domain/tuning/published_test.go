package tuning

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/stat/distuv"
)

func near(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	if math.Abs(got-want) > tolerance || math.IsNaN(got) {
		t.Errorf("%s is %.9g, not %.9g", what, got, want)
	}
}

func (l line) u() float64 { return math.Sqrt(l.squares / float64(l.degrees) * l.factor) }

// interval is of the first coefficient, 95 %.
func (l line) interval() (low, high float64) {
	half := distuv.StudentsT{Sigma: 1, Nu: float64(l.degrees)}.Quantile(0.975) * l.u()
	return l.beta[0] - half, l.beta[0] + half
}

func ones(n int) []float64 {
	list := make([]float64, n)
	for i := range list {
		list[i] = 1
	}
	return list
}

// TestDriftEliminatingDesign fits the eight differences of four blocks with a linear
// drift between them: NIST/SEMATECH e-Handbook of Statistical Methods, 2.3.4.2.12. The
// solution there has a divisor of 168; the sum of blocks 1 and 2 is known, here zero,
// so the parameters are half their difference, block 3, block 4 and the drift.
func TestDriftEliminatingDesign(t *testing.T) {
	design := [8][4]float64{
		{1, -1, 0, 0},
		{-1, 0, 0, 1},
		{0, 0, 1, -1},
		{0, 1, -1, 0},
		{0, 1, 0, -1},
		{-1, 0, 0, 1},
		{1, 0, -1, 0},
		{0, -1, 1, 0},
	}
	solution := [8][4]float64{
		{35, -35, -7, 7},
		{-14, 14, 14, 42},
		{-7, 7, 35, -35},
		{-14, 14, -42, -14},
		{-21, 21, -7, -49},
		{-14, 14, 14, 42},
		{21, -21, -49, -7},
		{14, -14, 42, 14},
	}
	var half, third, fourth, drift []float64
	for i, d := range design {
		half = append(half, d[0]-d[1])
		third, fourth = append(third, d[2]), append(fourth, d[3])
		drift = append(drift, float64(i)-3.5)
	}
	for i := range design {
		y := make([]float64, 8)
		y[i] = 1
		for block, columns := range [][][]float64{{half, third, fourth, drift}, nil, {third, half, fourth, drift}, {fourth, third, half, drift}} {
			if columns == nil {
				continue
			}
			l, ok := fitLine(y, columns...)
			if !ok || l.degrees != 4 {
				t.Fatalf("the design was not solved: %v, %d degrees", ok, l.degrees)
			}
			near(t, "a weight of the solution", l.beta[0], solution[i][block]/168, 1e-12)
		}
	}
	l, _ := fitLine(make([]float64, 8), half, third, fourth, drift)
	near(t, "the factor of block 1", math.Sqrt(l.factor), 0.3227, 5e-5)
	l, _ = fitLine(make([]float64, 8), third, half, fourth, drift)
	near(t, "the factor of block 3", math.Sqrt(l.factor), 0.5204, 5e-5)
}

// TestTwoMaterials compares the soles of ten boys, boy by boy: G. E. P. Box, W. G. Hunter
// and J. S. Hunter, Statistics for Experimenters (1978), recomputed.
func TestTwoMaterials(t *testing.T) {
	a := []float64{13.2, 8.2, 10.9, 14.3, 10.7, 6.6, 9.5, 10.8, 8.8, 13.3}
	b := []float64{14.0, 8.8, 11.2, 14.2, 11.8, 6.4, 9.8, 11.3, 9.3, 13.6}
	l := paired(t, a, b)
	near(t, "the mean difference", l.beta[0], 0.41, 1e-12)
	near(t, "t", l.beta[0]/l.u(), 3.348877, 5e-7)
	low, high := l.interval()
	near(t, "the lower end", low, 0.133046, 5e-7)
	near(t, "the upper end", high, 0.686954, 5e-7)
}

// TestSleep is of Student, "The probable error of a mean", Biometrika 6 (1908), from
// memory, recomputed.
func TestSleep(t *testing.T) {
	one := []float64{0.7, -1.6, -0.2, -1.2, -0.1, 3.4, 3.7, 0.8, 0.0, 2.0}
	two := []float64{1.9, 0.8, 1.1, 0.1, -0.1, 4.4, 5.5, 1.6, 4.6, 3.4}
	l := paired(t, two, one)
	near(t, "t", l.beta[0]/l.u(), -4.062128, 5e-7)
	low, high := l.interval()
	near(t, "the lower end", low, -2.459886, 5e-7)
	near(t, "the upper end", high, -0.700114, 5e-7)
}

// paired fits the change with a level for each pair.
func paired(t *testing.T, a, b []float64) line {
	t.Helper()
	n := len(a)
	columns := [][]float64{append(make([]float64, n), ones(n)...)}
	for i := range a {
		of := make([]float64, 2*n)
		of[i], of[n+i] = 1, 1
		columns = append(columns, of)
	}
	l, ok := fitLine(append(append([]float64(nil), a...), b...), columns...)
	if !ok || l.degrees != n-1 {
		t.Fatalf("the pairs were not fitted: %v, %d degrees", ok, l.degrees)
	}
	return l
}

// TestTwoMixtures compares eleven plants in a row of places: the same book.
func TestTwoMixtures(t *testing.T) {
	y := []float64{29.9, 11.4, 26.6, 23.7, 25.3, 28.5, 14.2, 17.9, 16.5, 21.1, 24.3}
	change := []float64{0, 0, 1, 1, 0, 1, 1, 1, 0, 0, 1}
	l, _ := fitLine(y, change, ones(11))
	near(t, "the difference", l.beta[0], 1.693333, 5e-7)
	near(t, "t", l.beta[0]/l.u(), 0.443685, 5e-7)
	place := make([]float64, 11)
	for i := range place {
		place[i] = float64(i + 1)
	}
	l, _ = fitLine(y, change, ones(11), place)
	near(t, "the difference beside a drift", l.beta[0], 2.180756, 5e-7)
	near(t, "its uncertainty", l.u(), 3.987914, 5e-7)
	near(t, "the drift", l.beta[2], -0.443112, 5e-7)
	near(t, "the scatter", math.Sqrt(l.squares/float64(l.degrees)), 6.486284, 5e-7)
	low, high := l.interval()
	near(t, "the lower end", low, -7.015390, 5e-6)
	near(t, "the upper end", high, 11.376902, 5e-6)
}

// TestPower: two groups of 20 that are one standard deviation apart, and 22.0211 of them
// for a power of 0.9, as a well-known statistics program prints, which counts the side
// of the difference alone (from memory, recomputed); then the fewest of each state for a
// power of 0.8 (recomputed).
func TestPower(t *testing.T) {
	limit := func(n float64) float64 { return distuv.StudentsT{Sigma: 1, Nu: 2*n - 2}.Quantile(0.975) }
	oneSide := func(n float64) float64 { return 1 - shiftedT(limit(n), math.Sqrt(n/2), 2*n-2) }
	near(t, "the power of 20", oneSide(20), 0.8689528, 5e-8)
	near(t, "the power of 22.0211", oneSide(22.0211), 0.9, 5e-7)
	for _, tt := range []struct{ difference, sd, want float64 }{{1, 0.3, 3}, {1, 0.5, 6}, {0.5, 0.3, 7}, {1, 1, 17}, {2, 1, 6}} {
		n := 2.0
		for power(tt.difference/tt.sd*math.Sqrt(n/2), 2*n-2, 0.05) < 0.8 {
			n++
		}
		near(t, "runs of each state", n, tt.want, 0)
	}
}

// TestOrderLosesDrift: the difference of plain means under drift x^k, x in steps from
// the middle, is 0 for ABBA (straight) and -2 (curved), and 0 for both in ABBABAAB
// (computed apart, in J. Sutton and C. Clarkson's setting, Metrologia 30, 1994).
func TestOrderLosesDrift(t *testing.T) {
	difference := func(n int, power float64) float64 {
		sums, counts := [2]float64{}, [2]float64{}
		for i, changed := range Order(n) {
			x := float64(i) - float64(n-1)/2
			sums[state(changed)] += math.Pow(x, power)
			counts[state(changed)]++
		}
		return sums[1]/counts[1] - sums[0]/counts[0]
	}
	near(t, "ABBA, straight", difference(4, 1), 0, 1e-12)
	near(t, "ABBA, curved", difference(4, 2), -2, 1e-12)
	near(t, "ABBABAAB, straight", difference(8, 1), 0, 1e-12)
	near(t, "ABBABAAB, curved", difference(8, 2), 0, 1e-12)
}
