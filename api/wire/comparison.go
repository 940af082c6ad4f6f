package wire

import (
	"benchmeet/api/gen"
	"benchmeet/domain/club"
	"benchmeet/domain/day"
	"benchmeet/domain/evidence"
	"benchmeet/domain/fairness"
)

// ShowFactor shows the adopted factor of a bench with its plate.
func ShowFactor(f fairness.Adopted, plate int) gen.BenchFactor {
	return gen.BenchFactor{Bench: f.Bench, Number: plate, Factor: PerMillion(f.FactorPPM), U: PerMillion(f.UPPM)}
}

// ReadCheck reads which cars a reference check drives over which benches; none named
// are for the server to choose.
func ReadCheck(meet string, b gen.BeginReferenceCheck) club.BeginCheck {
	c := club.BeginCheck{Meet: meet, RaceUS: Microseconds(b.RaceS)}
	for _, car := range b.Cars {
		c.Cars = append(c.Cars, day.CarID(car))
	}
	for _, bench := range Deref(b.Benches) {
		c.Benches = append(c.Benches, day.BenchID(bench))
	}
	return c
}

// ShowApart shows by how much two runs differ in one thing.
func ShowApart(a evidence.Apart) gen.Difference {
	return gen.Difference{Value: a.Value, U: a.U, TooClose: a.TooClose}
}
