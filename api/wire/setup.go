package wire

import (
	"benchmeet/api/gen"
	"benchmeet/domain/battery"
	"benchmeet/domain/club"
	"benchmeet/domain/workshop"
)

// ReadCarChange reads what a car of a number was changed to, and when.
func ReadCarChange(number int, b gen.ChangeCar) club.ChangeCar {
	c := club.ChangeCar{Number: number, Setup: ReadSetup(b.Setup), Refit: Deref(b.Refit)}
	if b.Noted != nil {
		c.NotedUS = b.Noted.UnixMicro()
	}
	return c
}

// ReadSetup reads what a car is made of.
func ReadSetup(b gen.CarSetup) workshop.Setup {
	return workshop.Setup{
		WheelUM: Thousands(Deref(b.WheelMm)), Driving: Deref(b.DrivingTeeth), Driven: Deref(b.DrivenTeeth), Motor: Deref(b.Motor),
		Cells: Deref(b.Cells), Chemistry: Word[battery.Chemistry](Deref(b.Chemistry)), Pack: Deref(b.Pack),
		MassMG: Thousands(Deref(b.MassG)), Tyres: Word[workshop.Tyres](Deref(b.Tyres)), Grease: Word[workshop.Grease](Deref(b.Grease)),
	}
}

// ShowSetup shows what a car is made of, as far as it is noted.
func ShowSetup(s workshop.Setup) gen.CarSetup {
	return gen.CarSetup{
		WheelMm: Opt(Thousandths(s.WheelUM)), DrivingTeeth: Opt(s.Driving), DrivenTeeth: Opt(s.Driven), Motor: Opt(s.Motor),
		Cells: Opt(s.Cells), Chemistry: OptWord[gen.Chemistry](s.Chemistry), Pack: Opt(s.Pack), MassG: Opt(Thousandths(s.MassMG)),
		Tyres: OptWord[gen.CarSetupTyres](s.Tyres), Grease: OptWord[gen.CarSetupGrease](s.Grease),
	}
}

// ShowParts shows in which parts two setups differ.
func ShowParts(list []workshop.Part) []gen.CarPart {
	out := []gen.CarPart{}
	for _, p := range list {
		out = append(out, gen.CarPart(p))
	}
	return out
}
