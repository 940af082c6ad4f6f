package wire

import (
	"benchmeet/api/gen"
	"benchmeet/domain/club"
	"benchmeet/domain/day"
	"benchmeet/domain/workshop"
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
		Session: Opt(r.Session), RaceS: Opt(Seconds(r.RaceUS)), State: Opt(r.State), Fitting: Opt(r.Fitting),
		GuessM: Opt(Metres(r.GuessUM)), Short: Opt(r.Short), Dropped: OptWord[gen.RunDrop](r.Dropped),
	}
	if r.Reference != nil {
		out.ReferenceMeet = &r.Reference.Meet
	}
	return out
}

// ShowLifeRun shows a practice run in short; the plate of its bench is 0 where it is not
// known.
func ShowLifeRun(r club.Practice, plate int) gen.LifeRun {
	return gen.LifeRun{
		Id: string(r.ID), At: Instant(r.AtUS), BenchNumber: Opt(plate), Session: Opt(r.Session), RaceS: Opt(Seconds(r.RaceUS)),
		State: Opt(r.State), Fitting: Opt(r.Fitting), DistanceM: Metres(r.Figures.DistanceUM),
		MeanSpeedMps: Opt(Metres(r.Figures.MeanUMPS)), MaxSpeedMps: Opt(Metres(r.Figures.MaxUMPS)),
		GuessM: Opt(Metres(r.GuessUM)), Counts: r.Counts(), Restated: Opt(r.Restated), Short: Opt(r.Short),
		Dropped: OptWord[gen.RunDrop](r.Dropped),
	}
}

// ReadPracticeSession reads on which benches a practice session is and what it goes by; what is
// left out is usual: turns of two runs, hands-free.
func ReadPracticeSession(b gen.PracticeSessionBody) ([]day.BenchID, workshop.Settings) {
	var benches []day.BenchID
	for _, id := range b.Benches {
		benches = append(benches, day.BenchID(id))
	}
	return benches, workshop.Settings{
		RaceUS: Microseconds(b.RaceS), Turn: OrElse(b.Turn, 2), HandsFree: OrElse(b.HandsFree, true),
		GoalUM: Micrometres(Deref(b.GoalM)),
	}
}

// ShowPracticeSession shows what a practice session goes by, without who is on and who waits.
func ShowPracticeSession(s workshop.Session) gen.PracticeSession {
	return gen.PracticeSession{
		Id: s.ID, Opened: Instant(s.OpenedUS), Closed: OptInstant(s.ClosedUS), RaceS: Seconds(s.RaceUS), Turn: s.Turn,
		HandsFree: s.HandsFree, GoalM: Opt(Metres(s.GoalUM)), DistanceM: Metres(s.DistanceUM),
		Benches: []gen.PracticeBench{}, Queue: []gen.QueuedCar{}, Cars: []gen.SessionCar{},
	}
}

// ShowArmed shows what a bench is armed for; what was guessed stays hidden.
func ShowArmed(a club.Armed, car int) gen.ArmedRun {
	return gen.ArmedRun{
		Run: string(a.Run), CarNumber: Opt(car), RaceS: Seconds(a.RaceUS), At: Instant(a.AtUS), Turn: Opt(a.Turn),
		Again: Opt(a.Again), Guessed: a.GuessUM > 0,
	}
}
