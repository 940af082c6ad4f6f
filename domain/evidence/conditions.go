package evidence

import (
	"fmt"
	"strconv"

	"benchmeet/domain/club"
	"benchmeet/domain/day"
	"benchmeet/domain/measure"
	"benchmeet/domain/trace"
)

// Conditions are what a run has to be measured under, as a log tells them. The
// server measures by them, and whoever verifies a log measures again by the same.
type Conditions struct {
	Bench   day.Bench
	LapUM   int64 // what is shown as a lap, in µm
	WheelUM int64 // the car's wheel diameter, in µm; 0 is not known
	RaceUS  int64 // the length of the race, in µs; 0 is not known
}

// InMeet finds the conditions of a meet's run: the bench's settings of the meet, and
// the class and length of the race that armed it. Where no lane armed it, the class is
// empty and the length 0. It is false where the meet does not know the bench.
func InMeet(s *day.State, run day.RunID, bench day.BenchID) (Conditions, bool) {
	b, known := s.Benches[bench]
	out := Conditions{Bench: b}
	if h, _, armed := run.Race(s); armed {
		d := s.Divisions[h.Division]
		out.LapUM, out.WheelUM, out.RaceUS = d.Class.LapUM, d.Class.WheelUM, d.Stages[h.Stage-1].RaceUS
	}
	return out, known
}

// InClub finds the conditions of a run that no meet knows how to measure: the
// bench's settings of the club, and the car that was confirmed at the bench or,
// if the run is the armed one, that one. A bench that nobody registered is
// measured with a usual roller, for what it sent is kept all the same.
func InClub(s *club.State, run day.RunID, bench day.BenchID, carNumber int) Conditions {
	b, known := s.Benches[bench]
	if !known {
		b.Bench = Unregistered
	}
	out := Conditions{Bench: b.Bench, LapUM: practiceLapUM}
	car := s.Numbers.At(carNumber)
	if asked, there := s.AskedFor(bench, run); there { // else it is another run's car
		out.RaceUS = asked.RaceUS
		if car == "" {
			car = asked.Car
		}
	}
	out.WheelUM = s.Cars.At(car).WheelUM
	return out
}

// practiceLapUM is what practice shows as a lap: a metre, easy to reckon with.
const practiceLapUM = 1_000_000

// Unregistered is a bench with a 30 mm roller (common practice).
var Unregistered = day.Bench{CircumferenceUM: 94_248, UCircumUM: 1000, Marks: 1, StampNS: 1000, ClockPPB: 50_000}

// CarNumber is the car that was confirmed at the bench, 0 for none. The contract
// bounds it to four digits.
func CarNumber(t trace.Totals) int {
	number, err := strconv.Atoi(t.Car)
	if err != nil {
		return 0
	}
	return number
}

// Measure computes a run's figures. Disagree says that its totals do not agree
// with its chunks, which becomes a flag, as passes that the box lost and its
// restarts do.
func (c Conditions) Measure(train trace.Train, disagree bool) (measure.Figures, error) {
	_, m, err := c.measured(train, disagree)
	if err != nil {
		return measure.Figures{}, err
	}
	return m.Figures(), nil
}

// measured measures a run and says under which setup.
func (c Conditions) measured(train trace.Train, disagree bool) (measure.Setup, measure.Measurement, error) {
	setup := c.Setup(train.Totals)
	m, err := measure.Measure(setup, train.Stamps)
	if err != nil && setup.Race.StartUS != nil {
		// A start that no race can have (a delay of minutes, a blink of a race): what
		// was counted stands all the same, from the first to the last turn.
		setup.Race = measure.Race{LapM: setup.Race.LapM}
		m, err = measure.Measure(setup, train.Stamps)
	}
	if err != nil {
		return setup, m, fmt.Errorf("run %s cannot be measured: %w", train.Run, err)
	}
	if n := int64(len(train.Totals.RestartsUS)); n > 0 {
		m.Tell(measure.Flag{Code: measure.Restarted, Args: []int64{n}})
		m.Forgo() // how long the box was away, nobody stamped
	}
	if lost := train.Totals.Lost; lost > 0 {
		m.Tell(measure.Flag{Code: measure.PassesLost, Args: []int64{int64(lost)}})
		if lost > m.Bridged {
			m.Forgo() // the gaps that were filled in do not hold them all
		}
	}
	if disagree {
		m.Tell(measure.Flag{Code: measure.TotalsDisagree})
		m.Forgo()
	}
	return setup, m, nil
}

// Setup is what the measurement needs.
func (c Conditions) Setup(t trace.Totals) measure.Setup {
	b := c.Bench
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
		Car:  measure.Car{WheelDiameterMM: float64(c.WheelUM) / 1e3},
		Race: measure.Race{LapM: float64(c.LapUM) / 1e6},
	}
	raceUS := c.RaceUS
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
