package meet_test

import (
	"testing"

	"benchmeet/domain/measure"
	"benchmeet/domain/meet"
)

func TestIncidentOf(t *testing.T) {
	tests := []struct {
		name  string
		flags []measure.Code
		want  meet.Incident
	}{
		{"left the rollers", []measure.Code{measure.ManyBridged, measure.Coasting}, meet.OffRollers},
		{"stood still", []measure.Code{measure.Stalled}, meet.Stalled},
		{"ran before the signal", []measure.Code{measure.EarlyStart, measure.Stalled}, meet.FalseStart},
		{"at full speed at once", []measure.Code{measure.NoRise}, meet.FalseStart},
		{"a signal that fails", []measure.Code{measure.OpenGap}, meet.BenchFailed},
		{"a lamp", []measure.Code{measure.MainsFlicker}, meet.BenchFailed},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			var f measure.Figures
			for _, code := range tt.flags {
				f.Flags = append(f.Flags, measure.Flag{Code: code})
			}
			if got := meet.IncidentOf(f); got != tt.want {
				t.Errorf("got %s, want %s", got, tt.want)
			}
		})
	}
}
