package main

import (
	"encoding/json"
	"math"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"benchmeet/cmd/benchmeet/sheet"
	"benchmeet/domain/measure"
)

func TestMeasureExampleOfHelp(t *testing.T) {
	from := strings.Index(sheet.MeasureHelp(), "  {")
	to := strings.Index(sheet.MeasureHelp(), "49000]}") + len("49000]}")
	out, err := compute(newMeasureCommand(), sheet.MeasureHelp()[from:to])
	if err != nil {
		t.Fatal(err)
	}
	var got sheet.MeasureOutput
	if err := json.Unmarshal([]byte(out), &got); err != nil {
		t.Fatal(err)
	}
	// Eight turns of 6 ms on a roller of 94.25 mm; one stamp came 0.3 ms after another.
	u95 := 0.000784
	wheel := math.Round(1e6*10_000*94.25/(math.Pi*24)) / 1e6
	want := sheet.MeasureOutput{
		Method: measure.Method, Turns: 8, Extra: 1, DistanceM: 0.754, Laps: 3,
		MeanRPM: 10_000, MaxRPM: 10_000, MeanSpeed: 15.708333, MaxSpeed: 15.708333,
		WheelMean: &wheel, WheelMax: &wheel, UDistance: 0.0004, U95Distance: &u95,
		FromUS: 1000, ToUS: 49_000,
		Flags: []sheet.MeasureFlag{
			{Code: "no-slip-assumed", Says: "Wheel rpm assumes that the wheel does not slip on the roller: a roller cannot see slip."},
		},
		Corrections: []measure.Correction{{AtUS: 31_300, Kind: measure.KindExtra}},
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("differs (-want +got):\n%s", diff)
	}
}

func TestMeasureRefuses(t *testing.T) {
	checkRefusals(t, newMeasureCommand, []refusalTest{
		{"no circumference", `{"stamps_us":[1,2]}`, exitRefused, "bench.circumference_mm"},
		{"too many marks", `{"bench":{"circumference_mm":94,"marks_per_turn":99}}`, exitRefused, "bench.marks_per_turn"},
		{"angles without order", `{"bench":{"circumference_mm":94,"mark_angles":[0,200,100]}}`, exitRefused, "bench.mark_angles"},
		{"both ends", `{"bench":{"circumference_mm":94},"race":{"duration_s":60,"distance_m":100}}`, exitRefused, "one of them"},
		{"unknown field", `{"bench":{"circumference_mm":94,"colour":"red"}}`, exitUsage, "colour"},
		{"part of a µs", `{"bench":{"circumference_mm":94},"stamps_us":[1.5]}`, exitUsage, "stamps_us"},
	})
}

func TestMeasureHelpNamesEveryFlag(t *testing.T) {
	help := newMeasureCommand().Long
	for _, entry := range measure.Codes() {
		if !strings.Contains(help, entry.Code) {
			t.Errorf("help does not name %s", entry.Code)
		}
	}
}

func TestMeasureRaceByDistanceAndFactor(t *testing.T) {
	// 50 mm a turn in 6 ms: 0.2 m are four turns, 24 ms. With a factor of 1.25 the
	// bench must read 0.25 m, five turns.
	tests := []struct {
		name, bench string
		timeS       float64
		raw         float64
	}{
		{"plain", `{"circumference_mm":50}`, 0.024, 0},
		{"factor", `{"circumference_mm":50,"factor":1.25}`, 0.03, 0.25},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			out, err := compute(newMeasureCommand(), `{"bench":`+tt.bench+`,"race":{"distance_m":0.2},
				"stamps_us":[0,6000,12000,18000,24000,30000,36000,42000,48000]}`)
			if err != nil {
				t.Fatal(err)
			}
			var got sheet.MeasureOutput
			if err := json.Unmarshal([]byte(out), &got); err != nil {
				t.Fatal(err)
			}
			if got.TimeS == nil || *got.TimeS != tt.timeS || got.DistanceM != 0.2 {
				t.Errorf("got %s, want %v s", out, tt.timeS)
			}
			if (got.RawDistanceM != nil) != (tt.raw != 0) || tt.raw != 0 && *got.RawDistanceM != tt.raw {
				t.Errorf("got %s, want %v m before the factor", out, tt.raw)
			}
		})
	}
}
