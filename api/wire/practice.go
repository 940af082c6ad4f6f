package wire

import (
	"benchmeet/api/gen"
	"benchmeet/domain/club"
	"benchmeet/domain/day"
)

// ReadArming reads which practice run a bench is armed for.
func ReadArming(bench string, b gen.ArmPractice) club.ArmPractice {
	return club.ArmPractice{
		Bench: day.BenchID(bench), Number: Deref(b.CarNumber), RaceUS: Microseconds(b.RaceS), Reference: Deref(b.ReferenceMeet),
	}
}

// ShowPracticeRun shows a practice run; plates of its bench and car are 0 where they
// are not known.
func ShowPracticeRun(r club.Practice, plate, car int) gen.PracticeRun {
	out := gen.PracticeRun{
		Id: string(r.ID), Bench: string(r.Bench), BenchNumber: Opt(plate), Car: Opt(string(r.Car)), CarNumber: Opt(car),
		At: Instant(r.AtUS), Figures: ShowFigures(r.Figures),
	}
	if r.Reference != nil {
		out.ReferenceMeet = &r.Reference.Meet
	}
	return out
}
