package wire

import (
	"benchmeet/api/gen"
	"benchmeet/domain/lesson"
)

// ShowCarFigures shows what one car did in a session, without what its changes came to.
func ShowCarFigures(c lesson.Car) gen.CarFigures {
	out := gen.CarFigures{
		CarNumber: c.Number, Runs: c.Runs, Changes: c.Changes, LastAt: OptInstant(c.LastUS), Guesses: []gen.Guess{},
		ClosestGuess: c.ClosestGuess, Improved: c.Improved, Answers: []gen.SessionAnswer{},
	}
	for _, g := range c.Guesses {
		out.Guesses = append(out.Guesses, gen.Guess{
			Run: string(g.Run), GuessM: Metres(g.GuessUM), DistanceM: Metres(g.CameUM), Error: g.Error, AfterChange: g.AfterStep,
		})
	}
	return out
}

// ShowClassPoint shows one point of the plot of a class.
func ShowClassPoint(p lesson.Point) gen.ClassPoint {
	return gen.ClassPoint{
		Code: p.Code, Ratio: Opt(p.Ratio), Volts: Opt(p.Volts), WheelMm: Opt(p.WheelMM), MassG: Opt(p.MassG), SpeedMps: p.SpeedMPS,
		Runs: p.Runs,
	}
}
