package fairness_test

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"benchmeet/domain/fairness"
	"benchmeet/domain/refusal"
)

func mv(v int64) *int64 { return &v }

// two is a class of two alkaline cells that asks for everything.
func two() fairness.Window {
	w := fairness.FreshWindow(fairness.Alkaline, 2)
	w.Load = &fairness.Span{Min: 2900, Max: 3300}
	w.ResistanceMax = 800
	w.Temperature = &fairness.Span{Min: 15_000, Max: 35_000}
	return w
}

func good() fairness.Reading {
	return fairness.Reading{
		AtUS: 1_000_000_000, Chemistry: fairness.Alkaline, Cells: 2, OpenMV: 3180,
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
		change func(r *fairness.Reading)
		codes  []refusal.Code
		says   string
	}{
		{"good", func(*fairness.Reading) {}, nil, ""},
		{"at the lower edge", func(r *fairness.Reading) { r.OpenMV = 3000 }, nil, ""},
		{"at the upper edge", func(r *fairness.Reading) { r.OpenMV = 3300 }, nil, ""},
		{"too empty", func(r *fairness.Reading) { r.OpenMV = 2999 }, []refusal.Code{"pack-open-low"}, "This pack holds too little: 2.999 V, it needs 3.00 V. Take another one."},
		{"too full", func(r *fairness.Reading) { r.OpenMV = 3301 }, []refusal.Code{"pack-open-high"}, "another kind than it seems"},
		{"weak", func(r *fairness.Reading) { r.LoadMV = mv(2899) }, []refusal.Code{"pack-load-low"}, "goes weak when it has to work"},
		{"strong under load", func(r *fairness.Reading) { r.OpenMV, r.LoadMV = 3300, mv(3301) }, []refusal.Code{"pack-load-rises"}, "measure both again"},
		{"load not measured", func(r *fairness.Reading) { r.LoadMV = nil }, []refusal.Code{"pack-load-asked"}, "while it works"},
		{"resistance", func(r *fairness.Reading) { r.ResistanceMOhm = mv(801) }, []refusal.Code{"pack-resistance"}, "801 mΩ"},
		{"resistance not measured", func(r *fairness.Reading) { r.ResistanceMOhm = nil }, nil, ""},
		{"another kind", func(r *fairness.Reading) { r.Chemistry = fairness.NiMH }, []refusal.Code{"pack-chemistry"}, "These are nickel-metal-hydride cells, and this class races with alkaline"},
		{"a cell more", func(r *fairness.Reading) { r.Cells = 3 }, []refusal.Code{"pack-cells"}, "has 3 cells"},
		{"cold", func(r *fairness.Reading) { r.TemperatureMC = mv(-40) }, []refusal.Code{"pack-cold"}, "(0.0 °C; it needs 15.0 °C)"},
		{"frozen", func(r *fairness.Reading) { r.TemperatureMC = mv(-1260) }, []refusal.Code{"pack-cold"}, "(-1.3 °C"},
		{"warm", func(r *fairness.Reading) { r.TemperatureMC = mv(35_050) }, []refusal.Code{"pack-warm"}, "(35.1 °C; at most 35.0 °C)"},
		{"not felt", func(r *fairness.Reading) { r.TemperatureMC = nil }, []refusal.Code{"pack-degrees"}, "how warm"},
		{"several at once", func(r *fairness.Reading) { r.Cells, r.OpenMV, r.LoadMV = 1, 1500, mv(1400) }, []refusal.Code{"pack-cells", "pack-open-low", "pack-load-low"}, ""},
		{"hurt is all that counts", func(r *fairness.Reading) { r.Hurt, r.OpenMV = true, 0 }, []refusal.Code{"pack-hurt"}, "do not use it. Tell an adult"},
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
	for _, c := range fairness.Chemistries() {
		if err := fairness.FreshWindow(c, 2).Check(); err != nil {
			t.Errorf("%s: %v", c, err)
		}
		if c.Primary() != (c != fairness.NiMH) {
			t.Errorf("%s is primary: %v", c, c.Primary())
		}
	}
	tests := []struct {
		name   string
		change func(w *fairness.Window)
	}{
		{"an unknown kind", func(w *fairness.Window) { w.Chemistry = "steam" }},
		{"no cells", func(w *fairness.Window) { w.Cells = 0 }},
		{"open the wrong way round", func(w *fairness.Window) { w.Open = fairness.Span{Min: 3300, Max: 3000} }},
		{"load the wrong way round", func(w *fairness.Window) { w.Load = &fairness.Span{Min: 2, Max: 1} }},
		{"colder than is possible", func(w *fairness.Window) { w.Temperature = &fairness.Span{Min: -300_000, Max: 0} }},
		{"a check that ends before it begins", func(w *fairness.Window) { w.ValidUS = -1 }},
		{"a rest of a week", func(w *fairness.Window) { w.RestUS = 7 * 86400 * 1_000_000 }},
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
		if (strings.HasPrefix(string(code), "pack") || strings.HasPrefix(string(code), "window") || strings.HasPrefix(string(code), "battery")) && strings.Contains(says, "charg") {
			t.Errorf("%s: %s", code, says)
		}
	}
}

// Source: a manufacturer's technical bulletin on internal resistance, 2005.
func TestTwoLoadsBulletin(t *testing.T) {
	var in struct {
		I1 float64 `json:"I1_A"`
		V1 float64
		I2 float64 `json:"I2_A"`
		V2 float64
	}
	var want struct {
		R   float64 `json:"R_ohm"`
		EMF float64 `json:"emf_V"`
	}
	workedCase(t, "battery-two-load", &in, &want)
	milli := func(v float64) int64 { return int64(1000*v + 0.5) }
	got, err := fairness.TwoLoads(
		fairness.LoadPoint{MA: milli(in.I1), MV: milli(in.V1)}, fairness.LoadPoint{MA: milli(in.I2), MV: milli(in.V2)})
	if err != nil {
		t.Fatal(err)
	}
	// u: √((1+0.214²)/6)/500 mA is 0.83 mΩ.
	if diff := cmp.Diff(fairness.Resistance{MOhm: milli(want.R), UMOhm: 1, EMFMV: milli(want.EMF)}, got); diff != "" {
		t.Errorf("(-want +got)\n%s", diff)
	}
}

func TestTwoLoads(t *testing.T) {
	tests := []struct {
		name string
		a, b fairness.LoadPoint
		want fairness.Resistance
		code refusal.Code
	}{
		{"the other way round", fairness.LoadPoint{MA: 505, MV: 1378}, fairness.LoadPoint{MA: 5, MV: 1485}, fairness.Resistance{MOhm: 214, UMOhm: 1, EMFMV: 1486}, ""},
		{"half is rounded up", fairness.LoadPoint{MA: 0, MV: 3000}, fairness.LoadPoint{MA: 2000, MV: 2999}, fairness.Resistance{MOhm: 1, UMOhm: 1, EMFMV: 3000}, ""},
		{"no drop", fairness.LoadPoint{MA: 0, MV: 3000}, fairness.LoadPoint{MA: 100, MV: 3000}, fairness.Resistance{UMOhm: 5, EMFMV: 3000}, ""},
		{"too near", fairness.LoadPoint{MA: 100, MV: 3000}, fairness.LoadPoint{MA: 149, MV: 2990}, fairness.Resistance{}, "two-loads"},
		{"it rises", fairness.LoadPoint{MA: 0, MV: 3000}, fairness.LoadPoint{MA: 100, MV: 3001}, fairness.Resistance{}, "two-loads-rise"},
		{"below nothing", fairness.LoadPoint{MA: -100, MV: 3000}, fairness.LoadPoint{MA: 100, MV: 3000}, fairness.Resistance{}, "two-loads"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			got, err := fairness.TwoLoads(tt.a, tt.b)
			r, _ := refusal.As(err)
			if diff := cmp.Diff(tt.want, got); diff != "" || (tt.code == "") != (err == nil) || tt.code != "" && r.Code != tt.code {
				t.Errorf("%v (-want +got)\n%s", err, diff)
			}
		})
	}
}
