package wire_test

import (
	"encoding/json"
	"testing"

	"github.com/google/go-cmp/cmp"

	"benchmeet/api/gen"
	"benchmeet/api/wire"
	"benchmeet/domain/battery"
	"benchmeet/domain/day"
	"benchmeet/domain/meet"
	"benchmeet/domain/programme/programmetest"
)

// What a class asks for at the inspector's table is planned and shown again as it
// was sent.
func TestClassTableComesBackAsSent(t *testing.T) {
	tests := []struct{ name, class string }{
		{"nothing", `{"name":"club class","lap_m":20}`},
		{"two kinds of cells", `{"name":"club class","lap_m":20,"cells":2,"battery":{"aside_after":3,"windows":[` +
			`{"chemistry":"alkaline","cells":2,"open_v":{"min":3,"max":3.3},"load_v":{"min":2.705,"max":3.2},"resistance_max_mohm":800,"temperature_c":{"min":-5.5,"max":35},"valid_s":7200,"rest_s":300},` +
			`{"chemistry":"nickel-metal-hydride","cells":2,"open_v":{"min":2.5,"max":2.9}}]}}`},
		{
			"a checklist",
			`{"name":"club class","lap_m":20,"checklist":[{"id":"mass","name":"Weight","unit":"g","max":180.5,"instrument":"scale"},{"id":"width","name":"Width","unit":"mm","min":40,"max":60},{"id":"guard","name":"The guard sits tight"}]}`,
		},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			var sent gen.CarClass
			if err := json.Unmarshal([]byte(test.class), &sent); err != nil {
				t.Fatal(err)
			}
			d, err := wire.ReadDivision(
				"junior",
				gen.DivisionBody{
					Name: "Junior", Class: sent,
					Stages: []gen.StageBody{{Kind: "timed-rounds", RaceS: 60, Lanes: 4, Rounds: new(1), Rule: new(gen.StageBodyRule("best"))}},
				},
			)
			if err != nil {
				t.Fatal(err)
			}
			s := day.New()
			s.Planned = true
			events, err := meet.Decide(s, meet.AddDivision{Division: d}, meet.Meta{})
			if err != nil {
				t.Fatal(err)
			}
			for _, e := range events {
				day.Evolve(s, e, 1)
			}
			if diff := cmp.Diff(sent, wire.ShowClass(s.Divisions["junior"].Class)); diff != "" {
				t.Errorf("(-want +got)\n%s", diff)
			}
		})
	}
}

// The contract refuses no car that the core takes, and takes none that it refuses.
func TestContractAndCoreBoundAlike(t *testing.T) {
	spec, err := gen.GetSpec()
	if err != nil {
		t.Fatal(err)
	}
	most := func(schema, field string) int {
		return int(*spec.Components.Schemas[schema].Value.Properties[field].Value.Max)
	}
	for name, cells := range map[string]int{
		"class": most("CarClass", "cells"), "window": most("BatteryWindow", "cells"), "reading": most("BatteryCheckBody", "cells"),
	} {
		if cells != battery.MostCells {
			t.Errorf("%s: the contract takes %d cells, the core %d", name, cells, battery.MostCells)
		}
	}
	for _, test := range []struct {
		name string
		g    int
		fits bool
	}{{"at the bound", most("CarClass", "mass_max_g"), true}, {"beyond", most("CarClass", "mass_max_g") + 1, false}} {
		s := day.New()
		s.Planned = true
		d := day.Division{ID: "a", Name: "a", Class: day.CarClass{LapUM: 20_000_000, MassMaxG: test.g}, Stages: []day.Stage{
			programmetest.Stage("timed-rounds", programmetest.Set{"rounds": 1, "lanes": 1, "rule": "best"}),
		}}
		if _, err := meet.Decide(s, meet.AddDivision{Division: d}, meet.Meta{}); (err == nil) != test.fits {
			t.Errorf("a mass %s: %v", test.name, err)
		}
	}
}
