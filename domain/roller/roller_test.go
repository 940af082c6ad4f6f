package roller_test

import (
	"testing"

	"benchmeet/domain/roller"
)

// TestCircumference: figures worked out on paper from JCGM 100:2008, 4.3.7 (a value within ±a
// has the standard uncertainty a/√3 = 0.57735 a). The strip within half a millimetre is the
// example of F.2.2.1 there: a display with steps of δx has 0.29 δx.
func TestCircumference(t *testing.T) {
	rolled := func(turns int, lengthUM, withinUM int64) func() (int64, int64) {
		return roller.Rolled{Turns: turns, LengthUM: lengthUM, WithinUM: withinUM}.Circumference
	}
	across := func(diameterUM, withinUM int64) func() (int64, int64) {
		return roller.Caliper{DiameterUM: diameterUM, WithinUM: withinUM}.Circumference
	}
	tests := []struct {
		name  string
		of    func() (int64, int64)
		um, u int64
	}{
		{"25 turns along a tape", rolled(25, 2_357_000, 1000), 94_280, 23}, // 1 mm * 0.57735 / 25 = 0.02309
		{"20 turns, read to 2 mm", rolled(20, 1_885_000, 2000), 94_250, 58},
		{"a strip of one turn, read to half a millimetre", rolled(1, 94_000, 500), 94_000, 289}, // 0.29 of 1 mm
		{"a third that does not come out even", rolled(3, 283_000, 1000), 94_333, 192},
		{"a caliper", across(30_000, 20), 94_248, 36},                // 3.14159 * 30; 3.14159 * 0.02 * 0.57735
		{"a caliper on soft rubber", across(29_950, 50), 94_091, 91}, // 94.0907; 0.09069
		{"nothing is known for sure", rolled(1000, 94_250_000, 100), 94_250, 1},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			if um, u := tt.of(); um != tt.um || u != tt.u {
				t.Errorf("it is %d ± %d µm, on paper %d ± %d", um, u, tt.um, tt.u)
			}
		})
	}
}
