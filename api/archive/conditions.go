package archive

import (
	"benchmeet/domain/club"
	"benchmeet/domain/measure"
	"benchmeet/domain/meet"
	"benchmeet/domain/trace"
)

// conditions are what a run was measured under, as far as the logs tell. They
// are read from the logs here, apart from the server that measured: a test holds
// the two together.
type conditions struct {
	bench  meet.Bench
	class  meet.CarClass
	wheel  int64 // µm
	raceUS int64
}

// inMeet finds the conditions of a meet's run; false where the meet does not know
// the bench.
func inMeet(s *meet.State, run string, bench meet.BenchID) (conditions, bool) {
	b, class, raceUS, err := s.Conditions(meet.RunID(run), bench)
	return conditions{b, class, class.WheelUM, raceUS}, err == nil
}

// inClub finds the conditions of a run that no meet knows how to measure.
func inClub(s *club.State, bench meet.BenchID) conditions {
	b, known := s.Benches[bench]
	if !known {
		b.Bench = unregistered
	}
	armed := s.Armed[bench]
	return conditions{b.Bench, meet.CarClass{LapUM: practiceLapUM}, s.Cars[armed.Car].WheelUM, armed.RaceUS}
}

// practiceLapUM is the lap of practice, and unregistered is the bench that
// stands for one that nobody registered, as the server takes them.
const practiceLapUM = 1_000_000

var unregistered = meet.Bench{Number: 1, CircumferenceUM: 94_248, UCircumUM: 1000, Marks: 1, StampNS: 1000, ClockPPB: 50_000}

// setup is what the measurement needs.
func (c conditions) setup(t trace.Totals) measure.Setup {
	s := measure.Setup{
		Bench: measure.Bench{
			CircumferenceMM:            float64(c.bench.CircumferenceUM) / 1e3,
			CircumferenceUncertaintyMM: float64(c.bench.UCircumUM) / 1e3,
			MarksPerTurn:               c.bench.Marks,
			StampUS:                    float64(c.bench.StampNS) / 1e3,
			ClockPPM:                   float64(c.bench.ClockPPB) / 1e3,
			ClockBits:                  64, // chunks carry unwrapped stamps
			Factor:                     1 + float64(c.bench.FactorPPM)/1e6,
		},
		Car:  measure.Car{WheelDiameterMM: float64(c.wheel) / 1e3},
		Race: measure.Race{LapM: float64(c.class.LapUM) / 1e6},
	}
	raceUS := c.raceUS
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
