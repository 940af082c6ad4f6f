package view_test

import (
	"testing"

	"benchmeet/api/view"
	"benchmeet/api/view/viewtest"
	"benchmeet/domain/battery"
	"benchmeet/domain/board"
	"benchmeet/domain/day"
	"benchmeet/domain/meet"
)

// tableDay is a day whose class asks for checks: 1 passed everything and raced, 2
// has a pack that is too empty and has to put its car right, 3 has one of the
// club's, 4 was seen nowhere.
func tableDay(t testing.TB) *viewtest.Day {
	d := viewtest.New(t, 4)
	junior := d.State.Divisions["junior"]
	junior.Class.Battery = &day.ClassBattery{Windows: battery.Windows{battery.FreshWindow(battery.Alkaline, 2)}, AsideAfter: 3}
	junior.Class.Checklist = []day.CheckItem{
		{ID: "mass", Name: "Weight", Unit: day.UnitMG, Max: 180_000, Instrument: "scale"},
		{ID: "guard", Name: "The guard sits tight"},
	}
	d.Give(meet.CloseEntries{Division: "junior", Open: true})
	d.Give(meet.AddDivision{Division: junior})
	d.Give(meet.CloseEntries{Division: "junior"})
	rules := d.State.Rules
	rules.BatteryGate, rules.InspectionGate = day.GateWarn, day.GateWarn
	d.Give(meet.ChangeRules{Rules: rules})
	yes, no, light, heavy := true, false, int64(171_500), int64(191_000)
	d.Give(
		meet.InspectCar{
			Entry: "e1", Mark: "green dot", Values: []day.ItemValue{{Item: "mass", Value: &light, Instrument: "scale"}, {Item: "guard", Yes: &yes}},
		},
	)
	d.Give(meet.InspectCar{Entry: "e2", FixUS: 600_000_000, Values: []day.ItemValue{{Item: "mass", Value: &heavy}, {Item: "guard", Yes: &no}}})
	d.Give(meet.CheckBattery{
		Pack: "own1", Entry: "e1", Instrument: "meter",
		Reading: battery.Reading{Chemistry: battery.Alkaline, Cells: 2, OpenMV: 3105, TemperatureMC: new(int64(21_500))},
		Loads:   []battery.LoadPoint{{MA: 5, MV: 3090}, {MA: 505, MV: 2876}},
	})
	d.Give(meet.CheckBattery{Pack: "own2", Entry: "e2", Reading: battery.Reading{Chemistry: battery.Alkaline, Cells: 2, OpenMV: 2310}})
	d.Give(meet.AddPacks{Packs: []day.PackID{"c1", "c2"}})
	d.Give(
		meet.CheckBattery{
			Pack: "c1", Division: "junior", Reading: battery.Reading{Chemistry: battery.Alkaline, Cells: 2, OpenMV: 3200, LoadMV: new(int64(3000))},
		},
	)
	d.Give(meet.IssuePack{Pack: "c1", Entry: "e3"})
	d.Give(meet.CheckBattery{Pack: "c2", Division: "junior", Reading: battery.Reading{Hurt: true}})
	d.Give(meet.DrawRound{Division: "junior"})
	d.Call("junior-1.1.1")
	return d
}

// TestTablePages: the inspector's table, a bench's order and the runs with their
// packs. To accept changes: go test ./api/view -run Table -update.
func TestTablePages(t *testing.T) {
	d := tableDay(t)
	v := show(t, d, newHall(t).of(t))
	orders := map[day.BenchID]any{}
	for _, b := range v.State.SortedBenches() {
		o, err := board.AssignmentOf(v.State, b.ID)
		must(t, err)
		orders[b.ID] = v.BenchOrder(o)
	}
	d.Race("junior-1.1.1")
	raced := show(t, d, view.Names{})
	page(t, "table-order", orders)
	page(t, "table", raced.InspectorTable(d.NowUS))
	page(t, "table-runs", raced.Runs())
	page(t, "table-heat", raced.Heat("junior-1.1.1"))
}
