// Package roller says what follows of a roller's measuring: its circumference, and how sure
// that is. Lengths are whole µm, as the log keeps them. It knows no bench and refuses
// nothing: Can says what cannot have been measured.
package roller

import "math"

// Rolled is how a roller's circumference was measured by rolling: along a tape on the
// floor, or by a strip or a thread that was laid around it and then measured. Zero: it was
// not.
type Rolled struct {
	Turns    int   `json:"turns"`     // whole ones
	LengthUM int64 `json:"length_um"` // of all turns together
	WithinUM int64 `json:"within_um"` // by how much the length may be off, either way
}

// Caliper is how a roller's circumference was measured across. Zero: it was not.
type Caliper struct {
	DiameterUM int64 `json:"diameter_um"`
	WithinUM   int64 `json:"within_um"` // by how much the diameter may be off, either way
}

// MostTurns is how many turns a roller is rolled at most.
const MostTurns = 1000

// mostLengthUM is how long a tape can be.
const mostLengthUM = 200_000_000

// Circumference is what follows of it, in whole µm: C = L/n. A length that lies somewhere
// within ±a, one place as likely as another, has the standard uncertainty a/√3 (JCGM
// 100:2008, 4.3.7), and dividing it by n divides that too: u = a/(n·√3). The start and the
// end are read once, however many turns lie between: this is why more turns are better.
func (r Rolled) Circumference() (um, uncertaintyUM int64) {
	n := float64(r.Turns)
	return reckoned(float64(r.LengthUM)/n, float64(r.WithinUM)/(n*math.Sqrt(3)))
}

// Circumference is what follows of it, in whole µm: C = π·d, and u = π·a/√3 for a diameter
// within ±a (JCGM 100:2008, 4.3.7 and 5.1.3).
func (c Caliper) Circumference() (um, uncertaintyUM int64) {
	return reckoned(math.Pi*float64(c.DiameterUM), math.Pi*float64(c.WithinUM)/math.Sqrt(3))
}

// reckoned rounds to whole µm. What was measured is never known for sure.
func reckoned(um, uncertaintyUM float64) (int64, int64) {
	return int64(math.Round(um)), max(1, int64(math.Round(uncertaintyUM)))
}

// Can says whether a roller can have been measured so.
func (r Rolled) Can() bool {
	return r.Turns >= 1 && r.Turns <= MostTurns && r.LengthUM > 0 && r.LengthUM <= mostLengthUM &&
		r.WithinUM > 0 && r.WithinUM <= r.LengthUM
}

// Can says whether a roller can have been measured so.
func (c Caliper) Can() bool {
	return c.DiameterUM > 0 && c.DiameterUM <= mostLengthUM && c.WithinUM > 0 && c.WithinUM <= c.DiameterUM
}
