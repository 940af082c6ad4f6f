package fairness_test

import (
	"testing"

	"github.com/google/go-cmp/cmp"

	"benchmeet/domain/fairness"
	"benchmeet/domain/refusal"
)

func TestWindows(t *testing.T) {
	ws := fairness.Windows{two(), fairness.FreshWindow(fairness.NiMH, 2)}
	tests := []struct {
		name string
		ws   fairness.Windows
		r    fairness.Reading
		want []refusal.Code
	}{
		{"the first kind", ws, good(), nil},
		{"the second kind, by its own bounds", ws, fairness.Reading{Chemistry: fairness.NiMH, Cells: 2, OpenMV: 2700}, nil},
		{"the second kind, too empty", ws, fairness.Reading{Chemistry: fairness.NiMH, Cells: 2, OpenMV: 2499}, []refusal.Code{"pack-open-low"}},
		{"a kind that does not race", ws, fairness.Reading{Chemistry: fairness.Lithium, Cells: 2, OpenMV: 3600}, []refusal.Code{"pack-chemistry"}},
		{"hurt, of any kind", ws, fairness.Reading{Chemistry: fairness.Lithium, Hurt: true}, []refusal.Code{"pack-hurt"}},
		{"a class that asks for nothing", nil, fairness.Reading{Chemistry: fairness.Lithium, Cells: 9}, nil},
		{"hurt, where nothing is asked for", nil, fairness.Reading{Hurt: true}, []refusal.Code{"pack-hurt"}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			if diff := cmp.Diff(tt.want, codes(tt.ws.Judge(tt.r))); diff != "" {
				t.Errorf("judge (-want +got)\n%s", diff)
			}
			// A pack with that check alone is ready where it was accepted.
			p := fairness.Pack{ID: "1"}.Checked(tt.r)
			if diff := cmp.Diff(len(tt.want) == 0, len(tt.ws.Ready(p, tt.r.AtUS, 0)) == 0); diff != "" {
				t.Errorf("ready (-want +got)\n%s", diff)
			}
		})
	}
	t.Run("says which kinds race", func(t *testing.T) {
		no := ws.Judge(fairness.Reading{Chemistry: fairness.Lithium})
		contains(t, no[0].Error(), "races with alkaline or nickel-metal-hydride")
	})
	t.Run("never checked", func(t *testing.T) {
		if diff := cmp.Diff([]refusal.Code{"pack-unchecked"}, codes(ws.Ready(fairness.Pack{ID: "1"}, 1, 0))); diff != "" {
			t.Errorf("(-want +got)\n%s", diff)
		}
	})
}

func TestReadingCheck(t *testing.T) {
	tests := []struct {
		name   string
		change func(r *fairness.Reading)
		fits   bool
	}{
		{"good", func(*fairness.Reading) {}, true},
		{"empty", func(r *fairness.Reading) { r.OpenMV, r.LoadMV = 0, nil }, true},
		{"no cells", func(r *fairness.Reading) { r.Cells = 0 }, false},
		{"more cells than a car has", func(r *fairness.Reading) { r.Cells = fairness.MostCells + 1 }, false},
		{"of no kind", func(r *fairness.Reading) { r.Chemistry = "" }, false},
		{"below nothing", func(r *fairness.Reading) { r.OpenMV = -1 }, false},
		{"of a power line", func(r *fairness.Reading) { r.LoadMV = mv(1_000_001) }, false},
		{"that gives", func(r *fairness.Reading) { r.ResistanceMOhm = mv(-1) }, false},
		{"that burns", func(r *fairness.Reading) { r.TemperatureMC = mv(150_001) }, false},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			r := good()
			tt.change(&r)
			if no, is := refusal.As(r.Check()); is == tt.fits || is && no.Code != "reading-range" {
				t.Errorf("got %v", no)
			}
		})
	}
}
