package meet_test

import (
	"testing"

	"benchmeet/domain/board"
	"benchmeet/domain/day"
	"benchmeet/domain/measure"
)

func TestIncidentOf(t *testing.T) {
	tests := []struct {
		name  string
		flags []measure.Code
		want  day.Incident
	}{
		{"left the rollers", []measure.Code{measure.ManyBridged, measure.Coasting}, day.OffRollers},
		{"stood still", []measure.Code{measure.Stalled}, day.Stalled},
		{"ran before the signal", []measure.Code{measure.EarlyStart, measure.Stalled}, day.FalseStart},
		{"at full speed at once", []measure.Code{measure.NoRise}, day.FalseStart},
		{"a signal that fails", []measure.Code{measure.OpenGap}, day.BenchFailed},
		{"a lamp", []measure.Code{measure.MainsFlicker}, day.BenchFailed},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			var f measure.Figures
			for _, code := range tt.flags {
				f.Flags = append(f.Flags, measure.Flag{Code: code})
			}
			if got := board.IncidentOf(f); got != tt.want {
				t.Errorf("got %s, want %s", got, tt.want)
			}
		})
	}
}
