package measure

import (
	"math"
	"testing"
)

func TestDifferences(t *testing.T) {
	run := func(distance, seconds float64, parts ...Part) Measurement {
		return Measurement{DistanceM: distance, MeanSpeedMPS: distance / seconds, Distance: Combine(parts)}
	}
	part := func(cause string, u float64) Part { return Part{Cause: cause, Shape: Normal, U: u} }
	a := run(200, 60, part("start", 0.03), part("circumference", 0.4), part("delay", 0.2))
	b := run(150, 60, part("start", 0.04), part("circumference", 0.3))
	tests := []struct {
		name string
		same bool
		of   func(a, b Measurement, same bool) (float64, Uncertainty)
		want float64
		u    float64
	}{
		{
			"distance, two benches: all causes add up", false, DistanceDifference, 50,
			math.Sqrt(0.03*0.03 + 0.4*0.4 + 0.2*0.2 + 0.04*0.04 + 0.3*0.3),
		},
		{
			"distance, one bench: its roller makes both wrong alike", true, DistanceDifference, 50,
			math.Sqrt(0.03*0.03 + 0.1*0.1 + 0.2*0.2 + 0.04*0.04),
		},
		{"speed, one bench: a late start hardly matters", true, SpeedDifference, 50.0 / 60, math.Sqrt(0.03*0.03+0.1*0.1+0.04*0.04) / 60},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			got, u := test.of(a, b, test.same)
			if math.Abs(got-test.want) > 1e-12 || math.Abs(u.Standard-test.u) > 1e-12 {
				t.Errorf("got %g, u %g; want %g, u %g", got, u.Standard, test.want, test.u)
			}
		})
	}
	t.Run("the other way round it is the same with the other sign", func(t *testing.T) {
		for _, same := range []bool{true, false} {
			x, ux := DistanceDifference(a, b, same)
			y, uy := DistanceDifference(b, a, same)
			if x != -y || math.Abs(ux.Standard-uy.Standard) > 1e-12 {
				t.Errorf("%g ± %g and %g ± %g", x, ux.Standard, y, uy.Standard)
			}
		}
	})
}
