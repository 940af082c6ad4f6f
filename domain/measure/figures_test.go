package measure

import (
	"encoding/json"
	"fmt"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

func ExampleMeasure() {
	// A roller of 94.25 mm turns in 6 ms. One stamp came twice, one not at all.
	stamps := []int64{1000, 7000, 13000, 13200, 19000, 25000, 37000, 43000, 49000, 55000, 61000, 67000, 73000, 79000}
	m, err := Measure(Setup{Bench: Bench{CircumferenceMM: 94.25}, Race: Race{LapM: 0.5}}, stamps)
	if err != nil {
		panic(err)
	}
	fmt.Printf("%v turns, %.4f m, %d laps, %.0f rpm\n", m.Turns, m.DistanceM, m.Laps, m.MeanRPM)
	fmt.Println(m.Corrections)
	for _, f := range m.Flags {
		fmt.Println(f.Says())
	}
	// Output:
	// 13 turns, 1.2252 m, 2 laps, 10000 rpm
	// [{13200 extra} {31000 bridged}]
	// Missed passes were filled in: 1.
}

func ExampleTracker() {
	t, err := New(Setup{Bench: Bench{CircumferenceMM: 100}})
	if err != nil {
		panic(err)
	}
	for at := int64(0); at <= 600_000; at += 6000 {
		t.Add(at)
	}
	fmt.Printf("%.0f rpm\n", t.Live(603_000).RPM)
	fmt.Printf("%.0f rpm when no stamp has come for two seconds\n", t.Live(2_600_000).RPM)
	// Output:
	// 10000 rpm
	// 30 rpm when no stamp has come for two seconds
}

func TestFigures(t *testing.T) {
	setup := Setup{
		Bench: Bench{CircumferenceMM: 94.25, CircumferenceUncertaintyMM: 0.05},
		Car:   Car{WheelDiameterMM: 24},
		Race:  Race{LapM: 1},
	}
	text, err := json.MarshalIndent(measured(t, setup, steady(1000, 41)).Figures(), "", "  ")
	if err != nil {
		t.Fatal(err)
	}
	want := `{
  "method": "benchmeet-measure/3",
  "turns_e6": 40000000,
  "distance_um": 3770000,
  "u_distance_um": 2000,
  "u95_distance_um": 3920,
  "laps": 3,
  "mean_mrpm": 10000000,
  "max_mrpm": 10000000,
  "mean_um_per_s": 15708333,
  "u_mean_um_per_s": 8333,
  "max_um_per_s": 15708333,
  "wheel_mean_mrpm": 12500294,
  "wheel_max_mrpm": 12500294,
  "from_us": 1000,
  "to_us": 241000,
  "time_us": 240000,
  "extra": 0,
  "bridged": 0,
  "flags": [
    {
      "code": "no-slip-assumed"
    }
  ]
}`
	if diff := cmp.Diff(want, string(text)); diff != "" {
		t.Errorf("differs (-want +got):\n%s", diff)
	}
}

func TestRoundIsHalfAwayFromZero(t *testing.T) {
	for x, want := range map[float64]int64{0.5: 1, -0.5: -1, 1.5: 2, 2.4999: 2, 1e300: mostStamp} {
		if got := round(x); got != want {
			t.Errorf("round(%v) is %d, want %d", x, got, want)
		}
	}
}

func TestEveryFlagHasASentence(t *testing.T) {
	seen := map[string]bool{}
	for _, entry := range Codes() {
		says := Flag{Code: Code(entry.Code), Args: []int64{123, 456, 789}}.Says()
		if strings.Contains(says, "%!") || !strings.HasSuffix(says, ".") && !strings.HasSuffix(says, "?") {
			t.Errorf("%s says %q", entry.Code, says)
		}
		if strings.Contains(entry.Says, "%[") || seen[entry.Code] {
			t.Errorf("%s is listed as %q", entry.Code, entry.Says)
		}
		if strings.Count(entry.Says, "N ")+strings.Count(entry.Says, "N.")+strings.Count(entry.Says, "N)")+
			strings.Count(entry.Says, "N;")+strings.Count(entry.Says, "N,") !=
			strings.Count(says, "123")+strings.Count(says, "456") {
			t.Errorf("%s shows %q but says %q", entry.Code, entry.Says, says)
		}
		seen[entry.Code] = true
	}
	if got := (Flag{Code: "of-a-later-version"}).Says(); got != "of-a-later-version" {
		t.Errorf("an unknown code says %q", got)
	}
}
