package intake

import (
	"benchmeet/domain/measure"
	"benchmeet/domain/meet"
	"benchmeet/domain/trace"
)

// setup is what a train has to be measured under.
func setup(b meet.Bench, class meet.CarClass, wheelUM, raceUS int64, t trace.Totals) measure.Setup {
	s := measure.Setup{
		Bench: measure.Bench{
			CircumferenceMM:            float64(b.CircumferenceUM) / 1e3,
			CircumferenceUncertaintyMM: float64(b.UCircumUM) / 1e3,
			MarksPerTurn:               b.Marks,
			StampUS:                    float64(b.StampNS) / 1e3,
			ClockPPM:                   float64(b.ClockPPB) / 1e3,
			ClockBits:                  64, // chunks carry unwrapped stamps
			Factor:                     1 + float64(b.FactorPPM)/1e6,
		},
		Car:  measure.Car{WheelDiameterMM: float64(wheelUM) / 1e3},
		Race: measure.Race{LapM: float64(class.LapUM) / 1e6},
	}
	if t.DurationUS > 0 {
		raceUS = t.DurationUS
	}
	if t.StartSource != trace.StartNone && raceUS > 0 {
		start, duration := t.StartUS, float64(raceUS)/1e6
		s.Race.StartUS, s.Race.DurationS = &start, &duration
		s.Race.StartDelayUS = float64(t.StartDelayUS)
	}
	return s
}
