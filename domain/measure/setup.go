package measure

import (
	"fmt"
	"math"
)

// mostStamp is the largest stamp that is taken for one: 2^53 µs, 285 years.
const mostStamp = 1 << 53

// MostMarks is the largest number of marks a turn that the tracker follows: its
// window for the top speed must hold five whole turns.
const MostMarks = 24

// Bench describes one measuring station. The JSON names are those of the
// command line.
type Bench struct {
	// CircumferenceMM is the way along the roller's surface in one turn, in mm.
	CircumferenceMM float64 `json:"circumference_mm"`
	// CircumferenceUncertaintyMM is the standard uncertainty of CircumferenceMM, in mm.
	CircumferenceUncertaintyMM float64 `json:"circumference_u_mm"`
	// MarksPerTurn is the number of marks that pass the sensor in one turn; 0 means 1.
	MarksPerTurn int `json:"marks_per_turn"`
	// MarkAngles are the places of the marks in degrees, ascending, the first
	// at 0, where they are known to be unequal. Empty means equal.
	MarkAngles []float64 `json:"mark_angles,omitempty"`
	// StampUS is the step of the stamp clock in µs; 0 means 1.
	StampUS float64 `json:"stamp_us"`
	// ClockPPM is the relative standard uncertainty of the clock's rate, in 1e-6.
	ClockPPM float64 `json:"clock_ppm"`
	// ClockBits is the width of the counter: 16 (it counts steps of StampUS),
	// 32 or 64 (they count µs); 0 means 32.
	ClockBits int `json:"clock_bits"`
	// Factor is what the bench reads over what is true; the distance and the
	// speeds are divided by it. 0 means 1.
	Factor float64 `json:"factor"`
	// FactorUncertainty is the standard uncertainty of Factor (same unit).
	FactorUncertainty float64 `json:"factor_u"`
	// FactorDegrees are the degrees of freedom behind FactorUncertainty; 0 means
	// that it is known well enough to count as infinite.
	FactorDegrees float64 `json:"factor_dof"`
}

// Car describes what is needed of the car.
type Car struct {
	// WheelDiameterMM is the diameter of the driven wheels in mm; 0 means unknown.
	WheelDiameterMM float64 `json:"wheel_diameter_mm"`
}

// Race says what is to be measured. All of it may be absent.
type Race struct {
	// LapM is the length of a lap in m; 0 means that no laps are counted.
	LapM float64 `json:"lap_m"`
	// StartUS is the stamp of the start signal on the bench's own clock.
	StartUS *int64 `json:"start_us"`
	// StartDelayUS is a bound: the signal came up to this much before StartUS.
	StartDelayUS float64 `json:"start_delay_us"`
	// DurationS ends the run that many seconds after its start.
	DurationS *float64 `json:"duration_s"`
	// DistanceM ends the run when the surface has gone that far: a race by
	// distance, in which the time counts.
	DistanceM *float64 `json:"distance_m"`
}

// Setup is all that a measurement needs beside the stamps.
type Setup struct {
	Bench Bench `json:"bench"`
	Car   Car   `json:"car"`
	Race  Race  `json:"race"`
}

// complete fills in the defaults and checks every number. Its errors name the
// field by its JSON name and say which values are allowed.
func (s Setup) complete() (Setup, error) {
	b := &s.Bench
	// The defaults come first: the limits hold for what is then there.
	setDefault(&b.StampUS, 1)
	setDefault(&b.Factor, 1)
	if b.MarksPerTurn == 0 {
		b.MarksPerTurn = max(1, len(b.MarkAngles))
	}
	if b.ClockBits == 0 {
		b.ClockBits = 32
	}
	for _, l := range s.limits() {
		if math.IsNaN(l.value) || l.value < l.low || l.value > l.high {
			return s, fmt.Errorf("%s is %g; give a number from %g to %g", l.name, l.value, l.low, l.high)
		}
	}
	if b.ClockBits != 16 && b.ClockBits != 32 && b.ClockBits != 64 {
		return s, fmt.Errorf("bench.clock_bits is %d; give 16, 32 or 64", b.ClockBits)
	}
	if s.Race.DurationS != nil && s.Race.DistanceM != nil {
		return s, fmt.Errorf("race has both duration_s and distance_m; give one of them")
	}
	if s.Race.LapM != 0 && s.Race.LapM < 0.001 {
		return s, fmt.Errorf("race.lap_m is %g; a lap is at least 0.001 m", s.Race.LapM)
	}
	return s, b.checkAngles()
}

// limit is a number with the values that are allowed for it.
type limit = struct {
	name      string
	value     float64
	low, high float64
}

// limits are the numbers of a setup that has its defaults, with what is allowed for each.
func (s Setup) limits() []limit {
	b := s.Bench
	limits := []limit{
		{"bench.circumference_mm", b.CircumferenceMM, 1, 10_000},
		{"bench.circumference_u_mm", b.CircumferenceUncertaintyMM, 0, 1000},
		{"bench.marks_per_turn", float64(b.MarksPerTurn), 1, MostMarks},
		{"bench.stamp_us", b.StampUS, 0.001, 10_000},
		{"bench.clock_ppm", b.ClockPPM, 0, 100_000},
		{"bench.factor", b.Factor, 0.5, 2},
		{"bench.factor_u", b.FactorUncertainty, 0, 1},
		{"bench.factor_dof", b.FactorDegrees, 0, 1e6},
		{"car.wheel_diameter_mm", s.Car.WheelDiameterMM, 0, 1000},
		{"race.lap_m", s.Race.LapM, 0, 1e6},
		{"race.start_delay_us", s.Race.StartDelayUS, 0, 1e7},
	}
	// What is absent has no limits: nil says that the race does not ask for it.
	if s.Race.StartUS != nil {
		limits = append(limits, limit{"race.start_us", float64(*s.Race.StartUS), 0, mostStamp})
	}
	if s.Race.DurationS != nil {
		limits = append(limits, limit{"race.duration_s", *s.Race.DurationS, 0.1, 86_400})
	}
	if s.Race.DistanceM != nil {
		limits = append(limits, limit{"race.distance_m", *s.Race.DistanceM, 0.01, 1e6})
	}
	return limits
}

// checkAngles refuses mark angles that do not describe one turn of marks.
func (b Bench) checkAngles() error {
	if len(b.MarkAngles) == 0 {
		return nil
	}
	if len(b.MarkAngles) != b.MarksPerTurn {
		return fmt.Errorf("bench.mark_angles holds %d angles for %d marks; give one for each mark",
			len(b.MarkAngles), b.MarksPerTurn)
	}
	for i, a := range b.MarkAngles {
		if i == 0 && a != 0 {
			return fmt.Errorf("bench.mark_angles begins with %g; count the angles from the first mark, which is 0", a)
		}
		if i > 0 && !(a >= b.MarkAngles[i-1]+1) || !(a <= 359) {
			return fmt.Errorf("bench.mark_angles: angle %d is %g; give ascending degrees below 360, at least one apart", i+1, a)
		}
	}
	return nil
}

// steps returns the part of a turn from each mark to the next one.
func (b Bench) steps() []float64 {
	parts := make([]float64, b.MarksPerTurn)
	for i := range parts {
		switch {
		case len(b.MarkAngles) == 0:
			parts[i] = 1 / float64(b.MarksPerTurn)
		case i+1 < len(parts):
			parts[i] = (b.MarkAngles[i+1] - b.MarkAngles[i]) / 360
		default:
			parts[i] = (360 - b.MarkAngles[i]) / 360
		}
	}
	return parts
}

// setDefault gives a number that was left out its usual value.
func setDefault(v *float64, usual float64) {
	if *v == 0 {
		*v = usual
	}
}
