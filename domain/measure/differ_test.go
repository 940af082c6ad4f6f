package measure_test

import (
	"testing"

	"benchmeet/domain/measure"
)

func TestDiffer(t *testing.T) {
	stored := measure.Figures{DistanceUM: 1000, Flags: []measure.Flag{{Code: measure.Bridged, Args: []int64{3}}}}
	with := func(change func(*measure.Figures)) measure.Figures {
		f := stored
		f.Flags = []measure.Flag{{Code: measure.Bridged, Args: []int64{3}}}
		change(&f)
		return f
	}
	tests := []struct {
		name  string
		again measure.Figures
		want  string
	}{
		{"the same", with(func(*measure.Figures) {}), ""},
		{"the last digit, which processors round apart", with(func(f *measure.Figures) { f.DistanceUM++ }), ""},
		{"more", with(func(f *measure.Figures) { f.DistanceUM += 2 }), "distance_um is 1000 in the log and 1002 when measured again"},
		{"a flag less", with(func(f *measure.Figures) { f.Flags = nil }), "the log has 1 flags and measuring again gives 0"},
		{
			"another flag", with(func(f *measure.Figures) { f.Flags[0].Code = measure.Stalled }),
			"flag 1 is bridged [3] in the log and stalled [3] when measured again",
		},
		{"another method alone", with(func(f *measure.Figures) { f.Method = "later/2" }), ""},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			if got := measure.Differ(stored, tt.again); got != tt.want {
				t.Errorf("got %q, want %q", got, tt.want)
			}
		})
	}
}
