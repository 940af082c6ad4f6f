package fairness_test

import (
	"fmt"
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"

	"benchmeet/domain/fairness"
	"benchmeet/domain/refusal"
)

// study is what testdata/repeatability/expected.json computed; s_r and s_R,
// which encoding/json takes for one name, stand in the test.
type study struct {
	Computed struct {
		Mean       float64
		NMean      float64   `json:"n_eff"`
		CellMean   []float64 `json:"cell_mean"`
		CellSD     []float64 `json:"cell_sd"`
		H, K       []float64
		Cochran    float64 `json:"cochran_C"`
		GrubbsHigh float64 `json:"grubbs_high"`
		GrubbsLow  float64 `json:"grubbs_low"`
		DoubleHigh float64 `json:"double_grubbs_high"`
		DoubleLow  float64 `json:"double_grubbs_low"`
	}
}

// Sources: sulfur in coal, ISO 5725-2:1994 Annex B.1 (data and printed results
// from memory); glucose in serum, ASTM E691 (data read in the ILS package of R,
// printed results from memory); both recomputed.
func TestLevelStudies(t *testing.T) {
	tests := []struct {
		name                     string
		mean, sr, sR             float64 // as printed
		meanWithin, sWithin      float64
		sxbar                    float64 // 0: unequal numbers, where E691 does not apply
		computedSR, computedSBig float64
		computedSL               float64
	}{
		{"coal-sulfur-level1", 0.690, 0.015, 0.026, 0.0005, 0.0005, 0, 0.015116507, 0.026363792, 0.021599555},
		{"coal-sulfur-level4", 3.250, 0.026, 0.058, 0.0005, 0.0005, 0, 0.02607681, 0.058216934, 0.052050085},
		{"glucose-A", 41.5183, 1.0632, 1.0632, 0.00005, 0.00005, 0.6061, 1.0632243, 1.0632243, 0},
		{"glucose-D", 194.7170, 2.6251, 3.3657, 0.0001, 0.00005, 2.5950, 2.6250651, 3.3657134, 2.106433},
	}
	all := map[string]study{}
	readJSON(t, "repeatability/expected.json", &all)
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			l, err := fairness.LevelOf(groups(t, "repeatability/"+tt.name+".csv", "laboratory", "y"))
			if err != nil {
				t.Fatal(err)
			}
			near(t, "mean as printed", l.Mean, tt.mean, tt.meanWithin)
			near(t, "s_r as printed", l.Repeatability, tt.sr, tt.sWithin)
			near(t, "s_R as printed", l.Reproducibility, tt.sR, tt.sWithin)
			near(t, "s_r", l.Repeatability, tt.computedSR, 1e-7)
			near(t, "s_L", l.Between, tt.computedSL, 1e-7)
			near(t, "s_R", l.Reproducibility, tt.computedSBig, 1e-7)
			sxbar, big, equal := l.E691()
			if equal != (tt.sxbar > 0) {
				t.Errorf("E691 applies: %v", equal)
			}
			if equal {
				near(t, "s_xbar as printed", sxbar, tt.sxbar, 0.00005)
				near(t, "s_R of E691 as printed", big, tt.sR, 0.00005)
			}
			want := all[tt.name].Computed
			near(t, "mean", l.Mean, want.Mean, 1e-5)
			near(t, "n", l.NMean, want.NMean, 1e-7)
			for i, row := range l.Mandel() {
				near(t, fmt.Sprintf("mean %d", i+1), l.Cells[i].Mean, want.CellMean[i], 1e-5)
				near(t, fmt.Sprintf("sd %d", i+1), l.Cells[i].SD, want.CellSD[i], 1e-7)
				near(t, fmt.Sprintf("h %d", i+1), row.H, want.H[i], 1e-6)
				near(t, fmt.Sprintf("k %d", i+1), row.K, want.K[i], 1e-6)
			}
			near(t, "Cochran", l.Cochran().Value, want.Cochran, 1e-7)
			low, high := l.Grubbs()
			near(t, "Grubbs low", low.Value, want.GrubbsLow, 1e-6)
			near(t, "Grubbs high", high.Value, want.GrubbsHigh, 1e-6)
			low, high = l.DoubleGrubbs()
			near(t, "double Grubbs low", low.Value, want.DoubleLow, 1e-6)
			near(t, "double Grubbs high", high.Value, want.DoubleHigh, 1e-6)
		})
	}
}

func TestLevelWords(t *testing.T) {
	l, err := fairness.LevelOf(groups(t, "repeatability/coal-sulfur-level4.csv", "laboratory", "y"))
	if err != nil {
		t.Fatal(err)
	}
	_, high := l.Grubbs()
	// 2.0935 lies below 2.126, and h of the same laboratory above the 1 % point of h, 2.06.
	want := fairness.Finding{Who: []string{"3"}, Word: fairness.Fits}
	if diff := cmp.Diff(want, fairness.Finding{Who: high.Who, Word: high.Word}); diff != "" {
		t.Errorf("(-want +got)\n%s", diff)
	}
	if row := l.Mandel()[2]; row.WordH != fairness.Outlier || row.WordK != fairness.Fits {
		t.Errorf("laboratory 3: got h %s and k %s", row.WordH, row.WordK)
	}
	if row := l.Mandel()[3]; row.WordK != fairness.Fits && row.WordK != fairness.Straggler {
		t.Errorf("laboratory 4: got k %s", row.WordK)
	}
}

// Source: JCGM 100:2008 (GUM), Annex H.5, from memory, recomputed.
func TestLevelOfCellsGUMH5(t *testing.T) {
	var in struct {
		Means []float64 `json:"day_mean_V"`
		SDs   []float64 `json:"day_sd_uV"`
		N     int       `json:"n_per_day"`
	}
	var want struct {
		Mean    float64 `json:"grand_mean_V"`
		SBetw   float64 `json:"s_between_uV"`
		F       float64
		Df      []int
		SMeans  float64 `json:"s_of_means_uV"`
		SWithin float64 `json:"s_b_uV"`
		UMean   float64 `json:"u_of_grand_mean_uV"`
	}
	workedCase(t, "gum-H5", &in, &want)
	cells := make([]fairness.Cell, len(in.Means))
	for i := range cells {
		cells[i] = fairness.Cell{Name: fmt.Sprint(i + 1), N: in.N, Mean: in.Means[i], SD: in.SDs[i] / 1e6}
	}
	l, err := fairness.LevelOfCells(cells)
	if err != nil {
		t.Fatal(err)
	}
	// Unrounded 57.09, 84.89, F 2.2615, 42.64 and 18.05.
	near(t, "mean", l.Mean, want.Mean, 0.5e-6)
	near(t, "s of means", l.SDOfMeans*1e6, 57.09, 0.01)
	near(t, "s within", l.Repeatability*1e6, 84.89, 0.01)
	near(t, "s within as printed", l.Repeatability*1e6, want.SWithin, 0.5)
	near(t, "s between", l.Between*1e6, 42.64, 0.01)
	near(t, "s between as printed", l.Between*1e6, want.SBetw, 0.5)
	near(t, "F", l.F, 2.2615, 0.0001)
	near(t, "u of the mean", l.UMean()*1e6, 18.05, 0.01)
	near(t, "u of the mean as printed", l.UMean()*1e6, want.UMean, 0.5)
	if diff := cmp.Diff(want.Df, []int{l.DegreesBetween, l.DegreesWithin}); diff != "" {
		t.Errorf("degrees (-want +got)\n%s", diff)
	}
}

func TestLevelRefuses(t *testing.T) {
	tests := []struct {
		name   string
		groups []fairness.Group
		code   refusal.Code
	}{
		{"nothing", nil, "study-short"},
		{"one bench", []fairness.Group{{"b1", []float64{1, 2}}}, "study-short"},
		{"no repeats", []fairness.Group{{"b1", []float64{1}}, {"b2", []float64{2}}}, "study-short"},
		{"an empty bench", []fairness.Group{{"b1", []float64{1, 2}}, {"b2", nil}}, "study-empty"},
		{"not a number", []fairness.Group{{"b1", []float64{1, math.NaN()}}, {"b2", []float64{2}}}, "study-value"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			_, err := fairness.LevelOf(tt.groups)
			if r, is := refusal.As(err); !is || r.Code != tt.code {
				t.Errorf("got %v, want %s", err, tt.code)
			}
		})
	}
}

// Equal values everywhere, and a bench with one value, must not give a figure
// that is none and is shown as one.
func TestLevelWithoutSpread(t *testing.T) {
	l, err := fairness.LevelOf([]fairness.Group{{"b1", []float64{5, 5}}, {"b2", []float64{5}}})
	if err != nil {
		t.Fatal(err)
	}
	if l.Repeatability != 0 || l.Reproducibility != 0 || !math.IsNaN(l.F) {
		t.Errorf("got %+v", l)
	}
	for i, row := range l.Mandel() {
		if !math.IsNaN(row.H) || !math.IsNaN(row.K) || row.WordH != "" || row.WordK != "" {
			t.Errorf("bench %d: got %+v", i+1, row)
		}
	}
	if diff := cmp.Diff(fairness.Finding{}, l.Cochran()); diff != "" {
		t.Errorf("Cochran (-want +got)\n%s", diff)
	}
}
