package day_test

import (
	"errors"
	"testing"

	"benchmeet/domain/day"
	"benchmeet/domain/refusal"
	"benchmeet/domain/roller"
)

// TestMeasuredBench: a circumference goes with what was measured, or is refused.
func TestMeasuredBench(t *testing.T) {
	tape := roller.Rolled{Turns: 25, LengthUM: 2_357_000, WithinUM: 1000} // 94,280 µm, u 23 µm
	across := roller.Caliper{DiameterUM: 30_000, WithinUM: 20}            // 94,248 µm, u 36 µm
	with := func(change func(*roller.Rolled)) roller.Rolled {
		r := tape
		change(&r)
		return r
	}
	tests := []struct {
		name    string
		um, u   int64
		rolled  roller.Rolled
		caliper roller.Caliper
		code    refusal.Code
	}{
		{"known from elsewhere", 94_000, 50, roller.Rolled{}, roller.Caliper{}, ""},
		{"rolled", 94_280, 23, tape, roller.Caliper{}, ""},
		{"rolled, a half rounded down", 94_279, 22, tape, roller.Caliper{}, ""},
		{"across", 94_248, 36, roller.Rolled{}, across, ""},
		{"another circumference", 94_300, 23, tape, roller.Caliper{}, "bench-measured"},
		{"an uncertainty that sounds better", 94_280, 5, tape, roller.Caliper{}, "bench-measured"},
		{"across, another one", 94_280, 36, roller.Rolled{}, across, "bench-measured"},
		{"both at once", 94_280, 23, tape, across, "bench-two-ways"},
		{"no turns", 94_280, 23, with(func(r *roller.Rolled) { r.Turns = 0 }), roller.Caliper{}, "bench-settings"},
		{"more turns than anybody counts", 2357, 1, with(func(r *roller.Rolled) { r.Turns = 1001 }), roller.Caliper{}, "bench-settings"},
		{"for sure", 94_280, 1, with(func(r *roller.Rolled) { r.WithinUM = 0 }), roller.Caliper{}, "bench-settings"},
		{"a length of less than nothing", 94_280, 23, with(func(r *roller.Rolled) { r.LengthUM = -1 }), roller.Caliper{}, "bench-settings"},
		{"a diameter of nothing", 94_280, 23, roller.Rolled{}, roller.Caliper{WithinUM: 20}, "bench-settings"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			b := day.Bench{
				ID: "b1", Number: 1, CircumferenceUM: tt.um, UCircumUM: tt.u, Marks: 1, StampNS: 1000,
				Rolled: tt.rolled, Caliper: tt.caliper,
			}
			var no *refusal.Refusal
			var code refusal.Code
			if errors.As(b.Check(), &no) {
				code = no.Code
			}
			if code != tt.code {
				t.Errorf("it is refused with %q, should be %q", code, tt.code)
			}
		})
	}
}
