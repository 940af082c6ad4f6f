package workshop

import (
	"slices"

	"benchmeet/domain/battery"
	"benchmeet/domain/refusal"
)

// Setup is what a car is made of, as far as somebody noted it; a zero is not noted. Two
// equal setups are the same state of the car.
type Setup struct {
	WheelUM   int64             `json:"wheel_um,omitempty"`  // wheel diameter, µm
	Driving   int               `json:"driving,omitempty"`   // teeth of the gear on the motor
	Driven    int               `json:"driven,omitempty"`    // teeth of the gear on the axle
	Motor     int               `json:"motor,omitempty"`     // the number on it
	Cells     int               `json:"cells,omitempty"`     // cells in series
	Chemistry battery.Chemistry `json:"chemistry,omitempty"` // what they are made of
	Pack      int               `json:"pack,omitempty"`      // the number on the pack
	MassMG    int64             `json:"mass_mg,omitempty"`   // ready to run, mg
	Tyres     Tyres             `json:"tyres,omitempty"`
	Grease    Grease            `json:"grease,omitempty"`
}

// Tyres says what the wheels run on.
type Tyres string

// Grease says what the gears and axles run in.
type Grease string

// The words for both (common practice).
var (
	tyres   = []Tyres{"none", "rubber", "foam", "silicone"}
	greases = []Grease{"none", "thin-oil", "oil", "grease"}
)

// The most of each part of a setup: what no palm-sized car reaches.
const (
	mostWheelUM = 1_000_000
	mostTeeth   = 200
	mostNumber  = 9999
	mostMassMG  = 10_000_000
)

// Check refuses a setup that no car has.
func (s Setup) Check() error {
	in := func(v, most int64) bool { return v >= 0 && v <= most }
	switch {
	case !in(s.WheelUM, mostWheelUM), !in(int64(s.Driving), mostTeeth), !in(int64(s.Driven), mostTeeth), !in(s.MassMG, mostMassMG),
		!in(int64(s.Motor), mostNumber), !in(int64(s.Pack), mostNumber), !in(int64(s.Cells), battery.MostCells):
		return refusal.New("setup-range", "cells", battery.MostCells)
	case (s.Driving == 0) != (s.Driven == 0):
		return refusal.New("setup-teeth")
	case s.Chemistry != "" && !slices.Contains(battery.Chemistries(), s.Chemistry),
		s.Tyres != "" && !slices.Contains(tyres, s.Tyres), s.Grease != "" && !slices.Contains(greases, s.Grease):
		return refusal.New("setup-word")
	}
	return nil
}

// Ratio is how often the motor turns while the axle turns once; 0 where the teeth are
// not noted.
func (s Setup) Ratio() float64 {
	if s.Driving == 0 {
		return 0
	}
	return float64(s.Driven) / float64(s.Driving)
}

// Part is one thing of a car that can be changed alone.
type Part string

// The parts, in the order in which they are named.
const (
	Wheel      Part = "wheel"
	Gear       Part = "gear"
	Motor      Part = "motor"
	Cells      Part = "cells"
	Pack       Part = "pack"
	Mass       Part = "mass"
	TyresPart  Part = "tyres"
	GreasePart Part = "grease"
)

// Apart are the parts in which two setups differ. A gear is both of its wheels: whoever
// changes one changes the gear. A part that only one of the two notes is one of them: it
// may have been changed.
func Apart(a, b Setup) []Part {
	var out []Part
	for _, p := range []struct {
		part Part
		same bool
	}{
		{Wheel, a.WheelUM == b.WheelUM},
		{Gear, a.Driving == b.Driving && a.Driven == b.Driven},
		{Motor, a.Motor == b.Motor},
		{Cells, a.Cells == b.Cells && a.Chemistry == b.Chemistry},
		{Pack, a.Pack == b.Pack},
		{Mass, a.MassMG == b.MassMG},
		{TyresPart, a.Tyres == b.Tyres},
		{GreasePart, a.Grease == b.Grease},
	} {
		if !p.same {
			out = append(out, p.part)
		}
	}
	return out
}
