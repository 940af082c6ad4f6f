package main

import (
	"encoding/json"
	"strings"
	"testing"

	"benchmeet/cmd/benchmeet/sheet"
)

func forecastExample() string {
	from := strings.Index(sheet.ForecastHelp, "  {")
	return sheet.ForecastHelp[from : from+strings.Index(sheet.ForecastHelp[from:], "\n\n")]
}

// TestForecastExampleOfHelp: three rounds of four heats and five waves of a knockout are
// 17 times 150 s, some races come again and change-overs scatter; eight hours are plenty.
func TestForecastExampleOfHelp(t *testing.T) {
	got := decodeOutput[sheet.ForecastOutput](t, newForecastCommand(), strings.Replace(forecastExample(), "2000", "200", 1))
	f := got.Finish
	if !(f.P10 < f.P50 && f.P50 < f.P90) || f.P50 < 17*150 || f.P90 > 1.7*17*150 || got.LateChance != 0 {
		t.Errorf("the finish is %+v, late in %g", f, got.LateChance)
	}
	if len(got.Rounds) != 7 || got.Rounds[0].Start.P90 != 0 || got.Rounds[6].End != f {
		t.Errorf("rounds %+v", got.Rounds)
	}
	if o := got.Options[0]; o.Format != "as planned" || o.FinishP50 != f.P50 || o.RunsAtLeast != 3 || len(got.Options) < 8 {
		t.Errorf("options %+v", got.Options)
	}
}

// TestForecastUsualValues: what a file leaves out is as the help says.
func TestForecastUsualValues(t *testing.T) {
	short := `{"closes": 4000, "benches": 2, "changeover": 90, "divisions": [{"id": "J", "entries": 6, "car_sd": 0.04, "run_sd": 0.01,
		"stages": [{"kind": "timed-rounds", "rounds": 3, "race": 60}]}]}`
	long := strings.Replace(short, "{", `{"opens": 0, "changeover_spread": 0.3, "day_spread": 0.1, "samples": 2000, "seed": 1, "rest": 0, "wait": 0, `, 1)
	one, err := compute(newForecastCommand(), short)
	if err != nil {
		t.Fatal(err)
	}
	two, err := compute(newForecastCommand(), long)
	if err != nil || one != two {
		t.Errorf("the usual values are not those of the help, %v", err)
	}
	three, err := compute(newForecastCommand(), strings.Replace(long, `"seed": 1`, `"seed": 2`, 1))
	if err != nil || three == two {
		t.Errorf("another seed gives the same, %v", err)
	}
	if !json.Valid([]byte(one)) {
		t.Error("not JSON")
	}
}

func TestForecastRefuses(t *testing.T) {
	with := func(old, value string) string { return strings.Replace(forecastExample(), old, value, 1) }
	checkRefusals(t, newForecastCommand, []refusalTest{
		{"closed before it opens", with(`"closes": 28800`, `"closes": 0`), exitRefused, "close later"},
		{"kind", with("knockout", "league"), exitRefused, `stage 2 of division "J": the kind "league"`},
		{"a rate above one half", with("0.05", "0.9"), exitRefused, "rerun_rate is 0.9"},
		{"samples", with("2000", "5"), exitRefused, "5 samples"},
		{"too few for groups", with(`"kind": "knockout", "entries": 16`, `"kind": "groups", "groups": 30`), exitRefused, `stage 2 of division "J"`},
		{"unknown field", with(`"run_sd"`, `"runsd"`), exitUsage, "runsd"},
		{"half an entry", with(`"entries": 40`, `"entries": 40.5`), exitUsage, "entries"},
	})
}
