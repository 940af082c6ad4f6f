package view

import (
	"slices"
	"strconv"
	"time"

	"benchmeet/api/gen"
	"benchmeet/api/wire"
	"benchmeet/domain/club"
	"benchmeet/domain/entrytable"
	"benchmeet/domain/lesson"
	"benchmeet/domain/quicker"
	"benchmeet/domain/workshop"
)

// SessionFigures is a practice session in numbers, with what the changes of its cars came
// to.
func SessionFigures(s *club.State, one workshop.Session, nowUS int64) (gen.SessionFigures, error) {
	f := lesson.Of(s, one, nowUS)
	out := gen.SessionFigures{
		Seq: s.Seq, Cars: []gen.CarFigures{}, FewestRuns: append([]int{}, f.FewestRuns...), Idle: append([]int{}, f.Idle...),
		BenchS: wire.Seconds(f.BenchUS), DrivenS: wire.Seconds(f.DrivenUS), LostS: wire.Seconds(f.LostUS),
	}
	for _, c := range f.Cars {
		shown := wire.ShowCarFigures(c)
		for _, pair := range c.Pairs {
			report, err := quicker.Compare(s, c.ID, pair[0], pair[1], nil)
			if err != nil {
				return out, err
			}
			shown.Answers = append(shown.Answers, wire.ShowAnswer(report))
		}
		out.Cars = append(out.Cars, shown)
	}
	return out, nil
}

// PracticeClass is the plot of a class; of all sessions where it is nil.
func PracticeClass(s *club.State, one *workshop.Session) gen.PracticeClass {
	c := lesson.ClassOf(s, one)
	out := gen.PracticeClass{Seq: s.Seq, Cars: c.Cars, LeastCars: lesson.LeastCars, Points: []gen.ClassPoint{}}
	for _, p := range c.Points {
		out.Points = append(out.Points, wire.ShowClassPoint(p))
	}
	return out
}

// number writes a number for a spreadsheet; a 0 that says "not noted" is left out.
func number(v float64) string {
	if v == 0 {
		return ""
	}
	return strconv.FormatFloat(v, 'f', -1, 64)
}

// ClassSheet is the plot of a class as a table.
func ClassSheet(s *club.State, one *workshop.Session) []byte {
	heads := []string{"code", "ratio", "volts", "wheel_mm", "mass_g", "speed_mps", "runs"}
	var rows [][]string
	for _, p := range lesson.ClassOf(s, one).Points {
		rows = append(rows, []string{
			p.Code, number(p.Ratio), number(p.Volts), number(p.WheelMM), number(p.MassG), number(rounded(p.SpeedMPS, 100)), strconv.Itoa(p.Runs),
		})
	}
	return entrytable.Write(heads, rows)
}

// LifeSheet is the practice runs of a car as a table, oldest first.
func LifeSheet(s *club.State, car club.Car) []byte {
	heads := []string{
		"run", "at", "counts", "race_s", "distance_m", "mean_speed_mps", "max_speed_mps", "guess_m", "state", "fitting",
		"wheel_mm", "driving_teeth", "driven_teeth", "motor", "cells", "chemistry", "pack", "mass_g", "tyres", "grease",
	}
	life := s.Lives.At(car.ID)
	var rows [][]string
	for _, r := range slices.Backward(s.History(car.ID, allRuns)) {
		setup, _ := life.Setup(r.State)
		whole := func(n int) string { return number(float64(n)) }
		rows = append(rows, []string{
			string(r.ID), wire.Instant(r.AtUS).Format(time.RFC3339), strconv.FormatBool(r.Counts()), number(wire.Seconds(r.RaceUS)),
			number(wire.Metres(r.Figures.DistanceUM)), number(wire.Metres(r.Figures.MeanUMPS)), number(wire.Metres(r.Figures.MaxUMPS)),
			number(wire.Metres(r.GuessUM)), whole(r.State), whole(r.Fitting), number(wire.Thousandths(setup.WheelUM)), whole(setup.Driving),
			whole(setup.Driven), whole(setup.Motor), whole(setup.Cells), string(setup.Chemistry), whole(setup.Pack),
			number(wire.Thousandths(setup.MassMG)), string(setup.Tyres), string(setup.Grease),
		})
	}
	return entrytable.Write(heads, rows)
}
