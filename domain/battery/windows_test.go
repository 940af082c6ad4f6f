package battery_test

import (
	"testing"

	"github.com/google/go-cmp/cmp"

	"benchmeet/domain/battery"
	"benchmeet/domain/refusal"
)

func TestWindows(t *testing.T) {
	ws := battery.Windows{two(), battery.FreshWindow(battery.NiMH, 2)}
	tests := []struct {
		name string
		ws   battery.Windows
		r    battery.Reading
		want []refusal.Code
	}{
		{"the first kind", ws, good(), nil},
		{"the second kind, by its own bounds", ws, battery.Reading{Chemistry: battery.NiMH, Cells: 2, OpenMV: 2700}, nil},
		{"the second kind, too empty", ws, battery.Reading{Chemistry: battery.NiMH, Cells: 2, OpenMV: 2499}, []refusal.Code{"pack-open-low"}},
		{"a kind that does not race", ws, battery.Reading{Chemistry: battery.Lithium, Cells: 2, OpenMV: 3600}, []refusal.Code{"pack-chemistry"}},
		{"hurt, of any kind", ws, battery.Reading{Chemistry: battery.Lithium, Hurt: true}, []refusal.Code{"pack-hurt"}},
		{"a class that asks for nothing", nil, battery.Reading{Chemistry: battery.Lithium, Cells: 9}, nil},
		{"hurt, where nothing is asked for", nil, battery.Reading{Hurt: true}, []refusal.Code{"pack-hurt"}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			if diff := cmp.Diff(tt.want, codes(tt.ws.Judge(tt.r))); diff != "" {
				t.Errorf("judge (-want +got)\n%s", diff)
			}
			// A pack with that check alone is ready where it was accepted.
			p := battery.Pack{ID: "1"}.Checked(tt.r)
			if diff := cmp.Diff(len(tt.want) == 0, len(tt.ws.Ready(p, tt.r.AtUS, 0)) == 0); diff != "" {
				t.Errorf("ready (-want +got)\n%s", diff)
			}
		})
	}
	t.Run("says which kinds race", func(t *testing.T) {
		no := ws.Judge(battery.Reading{Chemistry: battery.Lithium})
		contains(t, no[0].Error(), "races with alkaline or nickel-metal-hydride")
	})
	t.Run("never checked", func(t *testing.T) {
		if diff := cmp.Diff([]refusal.Code{"pack-unchecked"}, codes(ws.Ready(battery.Pack{ID: "1"}, 1, 0))); diff != "" {
			t.Errorf("(-want +got)\n%s", diff)
		}
	})
}

func TestReadingCheck(t *testing.T) {
	tests := []struct {
		name   string
		change func(r *battery.Reading)
		fits   bool
	}{
		{"good", func(*battery.Reading) {}, true},
		{"empty", func(r *battery.Reading) { r.OpenMV, r.LoadMV = 0, nil }, true},
		{"no cells", func(r *battery.Reading) { r.Cells = 0 }, false},
		{"more cells than a car has", func(r *battery.Reading) { r.Cells = battery.MostCells + 1 }, false},
		{"of no kind", func(r *battery.Reading) { r.Chemistry = "" }, false},
		{"below nothing", func(r *battery.Reading) { r.OpenMV = -1 }, false},
		{"of a power line", func(r *battery.Reading) { r.LoadMV = mv(1_000_001) }, false},
		{"that gives", func(r *battery.Reading) { r.ResistanceMOhm = mv(-1) }, false},
		{"that burns", func(r *battery.Reading) { r.TemperatureMC = mv(150_001) }, false},
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
