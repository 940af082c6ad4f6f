package measure

import (
	"slices"
	"testing"
)

// A run without a stamp is no signal, and nothing else: how long before the end it
// was cut short cannot be said.
func TestSilentRunSaysOnlyThat(t *testing.T) {
	start, duration := int64(5_000_000), 4.0
	setup := Setup{
		Bench: Bench{CircumferenceMM: 94.25, ClockBits: 64},
		Race:  Race{LapM: 1, StartUS: &start, DurationS: &duration},
	}
	m, err := Measure(setup, nil)
	if err != nil {
		t.Fatal(err)
	}
	var codes []Code
	for _, f := range m.Flags {
		codes = append(codes, f.Code)
	}
	if !slices.Equal(codes, []Code{NoSignal}) || m.Turns != 0 || m.DistanceM != 0 {
		t.Errorf("%v, %g turns, %g m", codes, m.Turns, m.DistanceM)
	}
}
