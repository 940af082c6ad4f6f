package tuning

// Scatter is what like fittings scattered by elsewhere: the same car's in an earlier
// comparison, or those of cars of one session that scatter alike. The zero value says
// that nothing is known.
type Scatter struct {
	// SD is relative (0.003 is 0.3 %), of the mean of as many runs as a fitting has
	// in the comparison; Degrees are the degrees of freedom behind it.
	SD      float64
	Degrees int
}

// Pooled puts scatters together by their degrees of freedom.
func Pooled(list ...Scatter) Scatter {
	squares, degrees := 0.0, 0
	for _, s := range list {
		squares += s.SD * s.SD * float64(s.Degrees)
		degrees += s.Degrees
	}
	return scatterOf(squares, degrees)
}
