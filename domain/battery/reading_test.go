package battery_test

import (
	"regexp"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"benchmeet/domain/battery"
	"benchmeet/domain/refusal"
)

func mv(v int64) *int64 { return &v }

// two is a class of two alkaline cells that asks for everything.
func two() battery.Window {
	w := battery.FreshWindow(battery.Alkaline, 2)
	w.Load = &battery.Span{Min: 2900, Max: 3300}
	w.ResistanceMax = 800
	w.Temperature = &battery.Span{Min: 15_000, Max: 35_000}
	return w
}

func good() battery.Reading {
	return battery.Reading{
		AtUS: 1_000_000_000, Chemistry: battery.Alkaline, Cells: 2, OpenMV: 3180,
		LoadMV: mv(2950), ResistanceMOhm: mv(428), TemperatureMC: mv(21_500),
	}
}

func codes(list []*refusal.Refusal) []refusal.Code {
	var out []refusal.Code
	for _, r := range list {
		out = append(out, r.Code)
	}
	return out
}

func TestJudgeReading(t *testing.T) {
	tests := []struct {
		name   string
		change func(r *battery.Reading)
		codes  []refusal.Code
		says   string
	}{
		{"good", func(*battery.Reading) {}, nil, ""},
		{"at the lower edge", func(r *battery.Reading) { r.OpenMV = 3000 }, nil, ""},
		{"at the upper edge", func(r *battery.Reading) { r.OpenMV = 3300 }, nil, ""},
		{
			"too empty", func(r *battery.Reading) { r.OpenMV = 2999 },
			[]refusal.Code{"pack-open-low"},
			"This pack holds too little: 2.999 V, it needs 3.00 V. Take another one.",
		},
		{"too full", func(r *battery.Reading) { r.OpenMV = 3301 }, []refusal.Code{"pack-open-high"}, "another kind than it seems"},
		{"weak", func(r *battery.Reading) { r.LoadMV = mv(2899) }, []refusal.Code{"pack-load-low"}, "goes weak when it has to work"},
		{
			"strong under load", func(r *battery.Reading) { r.OpenMV, r.LoadMV = 3300, mv(3301) },
			[]refusal.Code{"pack-load-rises"},
			"measure both again",
		},
		{"load not measured", func(r *battery.Reading) { r.LoadMV = nil }, []refusal.Code{"pack-load-asked"}, "while it works"},
		{"resistance", func(r *battery.Reading) { r.ResistanceMOhm = mv(801) }, []refusal.Code{"pack-resistance"}, "801 mΩ"},
		{"resistance not measured", func(r *battery.Reading) { r.ResistanceMOhm = nil }, nil, ""},
		{
			"another kind", func(r *battery.Reading) { r.Chemistry = battery.NiMH },
			[]refusal.Code{"pack-chemistry"},
			"These are nickel-metal-hydride cells, and this class races with alkaline",
		},
		{"a cell more", func(r *battery.Reading) { r.Cells = 3 }, []refusal.Code{"pack-cells"}, "has 3 cells"},
		{"cold", func(r *battery.Reading) { r.TemperatureMC = mv(-40) }, []refusal.Code{"pack-cold"}, "(0.0 °C; it needs 15.0 °C)"},
		{"frozen", func(r *battery.Reading) { r.TemperatureMC = mv(-1260) }, []refusal.Code{"pack-cold"}, "(-1.3 °C"},
		{"warm", func(r *battery.Reading) { r.TemperatureMC = mv(35_050) }, []refusal.Code{"pack-warm"}, "(35.1 °C; at most 35.0 °C)"},
		{"not felt", func(r *battery.Reading) { r.TemperatureMC = nil }, []refusal.Code{"pack-degrees"}, "how warm"},
		{
			"several at once", func(r *battery.Reading) { r.Cells, r.OpenMV, r.LoadMV = 1, 1500, mv(1400) },
			[]refusal.Code{"pack-cells", "pack-open-low", "pack-load-low"},
			"",
		},
		{
			"hurt is all that counts", func(r *battery.Reading) { r.Hurt, r.OpenMV = true, 0 },
			[]refusal.Code{"pack-hurt"},
			"do not use it. Tell an adult",
		},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			r := good()
			tt.change(&r)
			got := two().Judge(r)
			if diff := cmp.Diff(tt.codes, codes(got)); diff != "" {
				t.Errorf("(-want +got)\n%s", diff)
			}
			if tt.says != "" {
				contains(t, got[0].Error(), tt.says)
			}
		})
	}
}

func TestWindowCheck(t *testing.T) {
	for _, c := range battery.Chemistries() {
		if err := battery.FreshWindow(c, 2).Check(); err != nil {
			t.Errorf("%s: %v", c, err)
		}
		if c.Primary() != (c != battery.NiMH) {
			t.Errorf("%s is primary: %v", c, c.Primary())
		}
	}
	tests := []struct {
		name   string
		change func(w *battery.Window)
	}{
		{"an unknown kind", func(w *battery.Window) { w.Chemistry = "steam" }},
		{"no cells", func(w *battery.Window) { w.Cells = 0 }},
		{"open the wrong way round", func(w *battery.Window) { w.Open = battery.Span{Min: 3300, Max: 3000} }},
		{"load the wrong way round", func(w *battery.Window) { w.Load = &battery.Span{Min: 2, Max: 1} }},
		{"colder than is possible", func(w *battery.Window) { w.Temperature = &battery.Span{Min: -300_000, Max: 0} }},
		{"a check that ends before it begins", func(w *battery.Window) { w.ValidUS = -1 }},
		{"a rest of a week", func(w *battery.Window) { w.RestUS = 7 * 86400 * 1_000_000 }},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			w := two()
			tt.change(&w)
			if r, is := refusal.As(w.Check()); !is || r.Code != "window-order" {
				t.Errorf("got %v", r)
			}
		})
	}
}

// Nothing that is said about batteries, to anybody, speaks of charging.
func TestNobodyIsToldToCharge(t *testing.T) {
	for _, code := range refusal.Codes() {
		says := strings.ToLower(refusal.New(code).Error())
		if regexp.MustCompile("^(pack|window|battery)").MatchString(string(code)) && strings.Contains(says, "charg") {
			t.Errorf("%s: %s", code, says)
		}
	}
}

// Source: a manufacturer's technical bulletin on internal resistance, 2005 (two pulses
// of about 100 ms): 1.485 V at 5 mA and 1.378 V at 505 mA are 0.214 Ω and 1.486 V.
func TestTwoLoadsBulletin(t *testing.T) {
	got, err := battery.TwoLoads(battery.LoadPoint{MA: 5, MV: 1485}, battery.LoadPoint{MA: 505, MV: 1378})
	if err != nil {
		t.Fatal(err)
	}
	// u: √((1+0.214²)/6)/500 mA is 0.83 mΩ.
	if diff := cmp.Diff(battery.Resistance{MOhm: 214, UMOhm: 1, EMFMV: 1486}, got); diff != "" {
		t.Errorf("(-want +got)\n%s", diff)
	}
}

func TestTwoLoads(t *testing.T) {
	tests := []struct {
		name string
		a, b battery.LoadPoint
		want battery.Resistance
		code refusal.Code
	}{
		{
			"the other way round",
			battery.LoadPoint{MA: 505, MV: 1378},
			battery.LoadPoint{MA: 5, MV: 1485},
			battery.Resistance{MOhm: 214, UMOhm: 1, EMFMV: 1486},
			"",
		},
		{
			"half is rounded up",
			battery.LoadPoint{MA: 0, MV: 3000},
			battery.LoadPoint{MA: 2000, MV: 2999},
			battery.Resistance{MOhm: 1, UMOhm: 1, EMFMV: 3000},
			"",
		},
		{"no drop", battery.LoadPoint{MA: 0, MV: 3000}, battery.LoadPoint{MA: 100, MV: 3000}, battery.Resistance{UMOhm: 5, EMFMV: 3000}, ""},
		{"too near", battery.LoadPoint{MA: 100, MV: 3000}, battery.LoadPoint{MA: 149, MV: 2990}, battery.Resistance{}, "two-loads"},
		{"it rises", battery.LoadPoint{MA: 0, MV: 3000}, battery.LoadPoint{MA: 100, MV: 3001}, battery.Resistance{}, "two-loads-rise"},
		{"below nothing", battery.LoadPoint{MA: -100, MV: 3000}, battery.LoadPoint{MA: 100, MV: 3000}, battery.Resistance{}, "two-loads"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			got, err := battery.TwoLoads(tt.a, tt.b)
			r, _ := refusal.As(err)
			if diff := cmp.Diff(tt.want, got); diff != "" || (tt.code == "") != (err == nil) || tt.code != "" && r.Code != tt.code {
				t.Errorf("%v (-want +got)\n%s", err, diff)
			}
		})
	}
}
