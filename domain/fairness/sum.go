package fairness

import "math"

// sum adds exactly enough: the error of every addition is kept and added at the
// end (Neumaier, Rundungsfehleranalyse einiger Verfahren zur Summation endlicher
// Summen, 1974). Bench readings differ in their last digits only, where plain
// addition is lost.
type sum struct{ total, lost float64 }

func (s *sum) add(v float64) {
	t := s.total + v
	if math.Abs(s.total) >= math.Abs(v) {
		s.lost += (s.total - t) + v
	} else {
		s.lost += (v - t) + s.total
	}
	s.total = t
}

func (s *sum) value() float64 { return s.total + s.lost }

// precise is a number in two parts, of which the second holds what did not fit
// into the first. Means are kept so: squares of small deviations from a large
// mean feel its rounding.
type precise struct{ high, low float64 }

func (p precise) value() float64 { return p.high + p.low }

// from returns v - p. The first difference is exact where v is near p.
func (p precise) from(v float64) float64 { return (v - p.high) - p.low }

// minus returns p - q.
func (p precise) minus(q precise) float64 { return (p.high - q.high) + (p.low - q.low) }

// meanOf returns the mean of at least one value.
func meanOf(values []float64) precise {
	var s sum
	for _, v := range values {
		s.add(v)
	}
	n := float64(len(values))
	m := precise{high: s.value() / n}
	var rest sum
	for _, v := range values {
		rest.add(v - m.high)
	}
	m.low = rest.value() / n
	return m
}

// squaresAbout returns the sum of the squared deviations of values from m.
func squaresAbout(values []float64, m precise) float64 {
	var s sum
	for _, v := range values {
		d := m.from(v)
		s.add(d * d)
	}
	return s.value()
}
