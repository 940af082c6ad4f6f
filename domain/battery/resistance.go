package battery

import (
	"math"

	"benchmeet/domain/refusal"
)

// LoadPoint is a voltage at a current, in mV and mA.
type LoadPoint struct {
	MA int64 `json:"ma"`
	MV int64 `json:"mv"`
}

// Resistance is what a pack holds back, measured at two loads.
type Resistance struct {
	// MOhm is the internal resistance in mΩ, UMOhm its standard uncertainty from the
	// steps of 1 mV and 1 mA of the meters, rounded up.
	MOhm  int64 `json:"mohm"`
	UMOhm int64 `json:"u_mohm"`
	// EMFMV is the voltage that it would show at no current, in mV.
	EMFMV int64 `json:"emf_mv"`
}

// LeastLoadStep is how far apart the currents of two loads have to be, in mA:
// nearer together, a step of the meter is a large part of the drop.
const LeastLoadStep = 50

// TwoLoads computes the internal resistance from the voltages at two currents,
// R = ΔV/ΔI, each held for about 100 ms so that the cells do not recover (a
// manufacturer's technical bulletin, 2005). It reads higher than a meter that
// works at 1 kHz: the two are not compared. The points may come in either order;
// results are rounded half up.
func TwoLoads(a, b LoadPoint) (Resistance, error) {
	if a.MA > b.MA {
		a, b = b, a
	}
	for _, p := range []LoadPoint{a, b} {
		if p.MA < 0 || p.MA > mostMV || p.MV < 0 || p.MV > mostMV {
			return Resistance{}, refusal.New("two-loads", "least", LeastLoadStep)
		}
	}
	step, drop := b.MA-a.MA, a.MV-b.MV
	switch {
	case step < LeastLoadStep:
		return Resistance{}, refusal.New("two-loads", "least", LeastLoadStep)
	case drop < 0:
		return Resistance{}, refusal.New("two-loads-rise")
	}
	ohm := float64(drop) / float64(step)
	// Each reading is rounded to a step of 1: u = 1/√12 (GUM F.2.2.1), twice.
	u := math.Sqrt((1+float64(ohm*ohm))/6) / float64(step)
	return Resistance{
		MOhm:  (2000*drop + step) / (2 * step),
		UMOhm: int64(math.Ceil(1000 * u)),
		EMFMV: a.MV + (2*drop*a.MA+step)/(2*step),
	}, nil
}
