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
		{"a sensor that fails", []measure.Code{measure.Stalled, measure.WentSilent, measure.NoInterval}, day.BenchFailed},
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

// TestAskedIncident reads the reasons that a bench may give by the names of the incidents in the
// rules (common practice: pulses that the bench missed are its own failing).
func TestAskedIncident(t *testing.T) {
	for why, want := range map[day.ReasonCode]day.Incident{
		day.ReasonOffRollers: day.OffRollers, day.ReasonStalled: day.Stalled, day.ReasonFalseStart: day.FalseStart,
		day.ReasonBenchFault: day.BenchFailed, day.ReasonMissedPulses: day.BenchFailed,
		day.ReasonVolunteer: "", day.ReasonOutside: "", day.ReasonPower: "", day.ReasonOther: "",
	} {
		if got := board.AskedIncident(why); got != want {
			t.Errorf("%s is %q, want %q", why, got, want)
		}
	}
}
