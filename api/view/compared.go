package view

import (
	"benchmeet/api/gen"
	"benchmeet/api/wire"
	"benchmeet/domain/club"
	"benchmeet/domain/evidence"
	"benchmeet/domain/quicker"
)

// Compared is what a comparison of two states of a car says.
func Compared(s *club.State, r quicker.Report) gen.CarCompared {
	out := wire.ShowCompared(r)
	out.BenchNumber = wire.Opt(s.Benches[r.Bench].Number)
	for _, run := range r.Runs {
		out.Runs = append(out.Runs, *lifeRun(s, run))
	}
	return out
}

// PracticeCurve is a practice run with its speed over time; without stamps (nil) its
// figures alone.
func PracticeCurve(s *club.State, r club.Practice, again *evidence.Curve) gen.PracticeCurve {
	out := gen.PracticeCurve{
		Run:     wire.ShowPracticeRun(r, s.Benches[r.Bench].Number, s.Cars.At(r.Car).Number),
		Samples: []gen.SpeedSample{},
	}
	if again == nil {
		return out
	}
	since := func(us int64) float64 { return wire.Seconds(us - again.Measured.FromUS) }
	zero, until, every := 0.0, since(again.Measured.ToUS), wire.Seconds(again.EveryUS)
	out.FromS, out.ToS, out.EveryS = &zero, &until, &every
	for _, one := range again.Samples {
		if at := since(one.AtUS); at >= -beside && at <= until+beside {
			out.Samples = append(out.Samples, gen.SpeedSample{AtS: at, SpeedMps: rounded(one.SpeedMPS, 1e6), Rpm: rounded(one.RPM, 1e3)})
		}
	}
	course := again.Course()
	out.FullSpeed, out.Slowing = fullSpeed(course), slowing(course)
	if half, known := course.Half(); known {
		out.HalfS = &half
	}
	return out
}

// Traits are what the speed of a run over time tells of it.
func Traits(c evidence.Curve) quicker.Traits {
	course := c.Course()
	var out quicker.Traits
	out.StartS, _ = course.Half()
	if lost, known := course.Lost(); known && lost.Lost < 1 {
		out.Kept = 1 - lost.Lost
	}
	return out
}
