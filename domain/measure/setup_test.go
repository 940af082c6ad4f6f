package measure

import (
	"math"
	"strings"
	"testing"
)

func TestSetupIsChecked(t *testing.T) {
	number := func(x float64) *float64 { return &x }
	below := int64(-1)
	good := Bench{CircumferenceMM: 94.25}
	tests := []struct {
		name  string
		setup Setup
		says  string // empty: accepted
	}{
		{"defaults", Setup{Bench: good}, ""},
		{"angles alone state the marks", Setup{Bench: Bench{CircumferenceMM: 94, MarkAngles: []float64{0, 120, 240}}}, ""},
		{"no circumference", Setup{}, "bench.circumference_mm is 0"},
		{"not a number", Setup{Bench: Bench{CircumferenceMM: math.NaN()}}, "bench.circumference_mm"},
		{"too many marks", Setup{Bench: Bench{CircumferenceMM: 94, MarksPerTurn: 25}}, "from 1 to 24"},
		{"a clock of 20 bits", Setup{Bench: Bench{CircumferenceMM: 94, ClockBits: 20}}, "16, 32 or 64"},
		{"angles for other marks", Setup{Bench: Bench{CircumferenceMM: 94, MarksPerTurn: 2, MarkAngles: []float64{0}}}, "one for each mark"},
		{"angles from 10", Setup{Bench: Bench{CircumferenceMM: 94, MarkAngles: []float64{10, 20}}}, "first mark, which is 0"},
		{"angles down", Setup{Bench: Bench{CircumferenceMM: 94, MarkAngles: []float64{0, 200, 100}}}, "ascending"},
		{"a start below 0", Setup{Bench: good, Race: Race{StartUS: &below}}, "race.start_us"},
		{"no time", Setup{Bench: good, Race: Race{DurationS: number(0)}}, "race.duration_s"},
		{"time and distance", Setup{Bench: good, Race: Race{DurationS: number(1), DistanceM: number(1)}}, "give one of them"},
		{"a lap of nothing", Setup{Bench: good, Race: Race{LapM: 1e-9}}, "0.001 m"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			_, err := New(tt.setup)
			if tt.says == "" {
				if err != nil {
					t.Error(err)
				}
				return
			}
			if err == nil || !strings.Contains(err.Error(), tt.says) {
				t.Errorf("got %v, want an error with %q", err, tt.says)
			}
		})
	}
}
