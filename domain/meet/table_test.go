package meet_test

import (
	"testing"

	"github.com/google/go-cmp/cmp"

	"benchmeet/domain/battery"
	"benchmeet/domain/board"
	"benchmeet/domain/day"
	"benchmeet/domain/inspection"
	"benchmeet/domain/meet"
	"benchmeet/domain/refusal"
)

// tableDivision is "junior" with a battery window and a checklist.
func tableDivision() day.Division {
	v := goodDivision()
	v.Class.Battery = &day.ClassBattery{Windows: battery.Windows{battery.FreshWindow(battery.Alkaline, 2)}}
	v.Class.Checklist = []day.CheckItem{
		{ID: "mass", Name: "Weight", Unit: day.UnitMG, Max: 180_000},
		{ID: "guard", Name: "The guard sits tight"},
	}
	return v
}

// TestTableRefusals gives commands of the inspector's table that are refused;
// those of the told days are not repeated here.
func TestTableRefusals(t *testing.T) {
	division := func(change func(c *day.CarClass)) meet.Command {
		v := tableDivision()
		change(&v.Class)
		return meet.AddDivision{Division: v}
	}
	pack := func(change func(c *meet.CheckBattery)) meet.Command {
		c := meet.CheckBattery{Pack: "own1", Entry: "e1", Reading: battery.Reading{Chemistry: battery.Alkaline, Cells: 2, OpenMV: 3100}}
		change(&c)
		return c
	}
	yes, mg := true, int64(170_000)
	car := func(change func(c *meet.InspectCar)) meet.Command {
		c := meet.InspectCar{Entry: "e1", Values: []day.ItemValue{{Item: "mass", Value: &mg}, {Item: "guard", Yes: &yes}}}
		change(&c)
		return c
	}
	hurt := day.BatteryChecked{
		Pack: "own1", Division: "junior", PackCheck: day.PackCheck{Reading: battery.Reading{Hurt: true}, Entry: "e1"}, Aside: true,
	}
	s := given(t, day.DivisionAdded{Division: tableDivision()}, day.PacksAdded{Packs: []day.PackID{"c1"}})
	own := given(
		t, day.DivisionAdded{Division: tableDivision()},
		day.BatteryChecked{Pack: "own1", Division: "junior", PackCheck: day.PackCheck{Entry: "e1"}},
	)
	hot := given(t, closed, drawn, called, day.BenchReady{Heat: "junior-1.1.1", Bench: "b1", Entry: "e1", Pack: "own1"}, hurt)
	raced := given(t, raced()...)

	tests := []struct {
		name  string
		given *day.State
		when  meet.Command
		code  refusal.Code
	}{
		{"a window at least", s, division(func(c *day.CarClass) { c.Battery.Windows = nil }), "battery-class"},
		{"put aside after some refusals", s, division(func(c *day.CarClass) { c.Battery.AsideAfter = 21 }), "battery-class"},
		{"a window that can be", s, division(func(c *day.CarClass) { c.Battery.Windows[0].Open.Max = 0 }), "window-order"},
		{"a window for each kind", s, division(func(c *day.CarClass) {
			c.Battery.Windows = append(c.Battery.Windows, c.Battery.Windows[0])
		}), "windows-apart"},
		{"one number of cells", s, division(func(c *day.CarClass) {
			c.Battery.Windows = append(c.Battery.Windows, battery.FreshWindow(battery.NiMH, 3))
		}), "windows-apart"},
		{"the class's number of cells", s, division(func(c *day.CarClass) { c.Cells = 3 }), "battery-cells"},
		{"cells that fit into a car", s, division(func(c *day.CarClass) { c.Battery, c.Cells = nil, 21 }), "division-class"},
		{"a car that one hand lifts", s, division(func(c *day.CarClass) { c.MassMaxG = 10_001 }), "division-class"},
		{"a checklist that ends", s, division(func(c *day.CarClass) { c.Checklist = make([]day.CheckItem, 31) }), "items-many"},
		{"an item with an id", s, division(func(c *day.CarClass) { c.Checklist[0].ID = "" }), "bad-id"},
		{"an item once", s, division(func(c *day.CarClass) { c.Checklist[1].ID = "mass" }), "item-order"},
		{"an item with a name", s, division(func(c *day.CarClass) { c.Checklist[0].Name = "" }), "item-order"},
		{"a known unit", s, division(func(c *day.CarClass) { c.Checklist[0].Unit = "stone" }), "item-order"},
		{"limits the right way round", s, division(func(c *day.CarClass) { c.Checklist[0].Min = 190_000 }), "item-order"},
		{"no limits of yes or no", s, division(func(c *day.CarClass) { c.Checklist[1].Max = 1 }), "item-order"},

		{"a pack with a number", s, pack(func(c *meet.CheckBattery) { c.Pack = "my pack" }), "bad-id"},
		{"a racer's pack", s, pack(func(c *meet.CheckBattery) { c.Entry = "e9" }), "no-entry"},
		{"a class to judge by", s, pack(func(c *meet.CheckBattery) { c.Entry, c.Division = "", "x" }), "no-division"},
		{"whose pack is it", own, pack(func(c *meet.CheckBattery) { c.Entry, c.Division = "", "junior" }), "pack-whose"},
		{"a short name of the instrument", s, pack(func(c *meet.CheckBattery) { c.Instrument = string(make([]byte, 41)) }), "instrument"},
		{"a reading that can be", s, pack(func(c *meet.CheckBattery) { c.Reading.OpenMV = -1 }), "reading-range"},
		{"cells of a known kind", s, pack(func(c *meet.CheckBattery) { c.Reading.Chemistry = "steam" }), "reading-range"},
		{"two loads, not one", s, pack(func(c *meet.CheckBattery) { c.Loads = make([]battery.LoadPoint, 1) }), "two-loads"},
		{"packs to add", s, meet.AddPacks{}, "packs-count"},
		{"a pack added once", s, meet.AddPacks{Packs: []day.PackID{"c2", "c2"}}, "pack-twice"},
		{"a pack to lend", s, meet.IssuePack{Pack: "c9", Entry: "e1"}, "no-pack"},
		{"somebody to lend to", s, meet.IssuePack{Pack: "c1", Entry: "e9"}, "no-entry"},
		{"a pack to take back", s, meet.ReturnPack{Pack: "c9"}, "no-pack"},
		{"a hot pack does not start", hot, meet.StartHeat{Heat: "junior-1.1.1"}, "pack-hurt"},

		{"a car to inspect", s, car(func(c *meet.InspectCar) { c.Entry = "e9" }), "no-entry"},
		{"a repair of a day at most", s, car(func(c *meet.InspectCar) { c.FixUS = 13 * 3_600_000_000 }), "inspect-fix"},
		{"a short mark", s, car(func(c *meet.InspectCar) { c.Mark = string(make([]byte, 41)) }), "inspect-mark"},
		{"every item", s, car(func(c *meet.InspectCar) { c.Values = c.Values[:1] }), "item-missing"},
		{"an item found once", s, car(func(c *meet.InspectCar) { c.Values = append(c.Values, c.Values[0]) }), "item-value"},
		{"a weight that can be", s, car(func(c *meet.InspectCar) { v := int64(-1); c.Values[0].Value = &v }), "item-value"},
		{"a pass to lapse of a car that is there", s, meet.LapseInspection{Entry: "e9", Reason: why}, "no-entry"},
		{"a reason to lapse", s, meet.LapseInspection{Entry: "e1"}, "reason-code"},
		{"a heat to race in", s, meet.LetRace{Heat: "x", Entry: "e1", Reason: why}, "no-heat"},
		{"a reason to let race", raced, meet.LetRace{Heat: "junior-1.1.1", Entry: "e1"}, "reason-code"},
		{"nothing to let race", raced, meet.LetRace{Heat: "junior-1.1.1", Entry: "e1", Reason: why}, "let-race-late"},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			events, err := meet.Decide(test.given, test.when, meet.Meta{Actor: "o", NowUS: dayStart, Seed: 7})
			no, is := refusal.As(err)
			if !is || no.Code != test.code || len(events) > 0 {
				t.Errorf("got %v, %v; want the refusal %s", events, err, test.code)
			}
		})
	}
}

// A class that asks for nothing refuses nothing, and a bench's order says so.
func TestNoTable(t *testing.T) {
	s := given(t, closed, drawn, called)
	s.Rules.BatteryGate, s.Rules.InspectionGate = day.GateHold, day.GateHold
	o, err := board.AssignmentOf(s, "b1")
	if err != nil || o.Held || len(o.Says) > 0 || o.Gate.Pack != "" {
		t.Errorf("got %+v, %v", o, err)
	}
	events, err := meet.Decide(s, meet.ConfirmReady{Heat: "junior-1.1.1", Bench: "b1", StartNumber: 1}, meet.Meta{NowUS: dayStart})
	if diff := cmp.Diff([]day.Event{day.BenchReady{Heat: "junior-1.1.1", Bench: "b1", Entry: "e1"}}, events); diff != "" || err != nil {
		t.Errorf("%v (-want +got)\n%s", err, diff)
	}
}

// What a bench shows of a car that is held.
func TestBenchShowsTheGate(t *testing.T) {
	s := given(t, day.DivisionAdded{Division: tableDivision()}, closed, drawn, called)
	for _, test := range []struct {
		name                string
		battery, inspection day.GateRule
		says                int
		held                bool
	}{
		{"off", day.GateOff, day.GateOff, 0, false},
		{"warn", day.GateWarn, day.GateWarn, 2, false},
		{"hold one", day.GateHold, day.GateOff, 1, true},
		{"hold the other", day.GateWarn, day.GateHold, 2, true},
	} {
		t.Run(test.name, func(t *testing.T) {
			s.Rules.BatteryGate, s.Rules.InspectionGate = test.battery, test.inspection
			o, err := board.AssignmentOf(s, "b1")
			if err != nil || len(o.Says) != test.says || o.Held != test.held {
				t.Errorf("got %v %v, %v", o.Says, o.Held, err)
			}
		})
	}
}

// A pack that was shown twice in a row and refused is put aside; one that was
// accepted in between is not.
func TestAsideAfter(t *testing.T) {
	v := tableDivision()
	v.Class.Battery.AsideAfter = 2
	tests := []struct {
		name string
		mv   []int64
		want bool
	}{
		{"once", []int64{2900}, false},
		{"twice", []int64{2900, 2910}, true},
		{"accepted in between", []int64{2900, 3100, 2900}, false},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			s := given(t, day.DivisionAdded{Division: v})
			for _, mv := range test.mv {
				events, err := meet.Decide(s, meet.CheckBattery{
					Pack: "own1", Entry: "e1", Reading: battery.Reading{Chemistry: battery.Alkaline, Cells: 2, OpenMV: mv},
				}, meet.Meta{Actor: "o", NowUS: dayStart})
				if err != nil {
					t.Fatal(err)
				}
				for _, e := range events {
					day.Evolve(s, e, dayStart)
				}
			}
			if got := s.Packs["own1"].Aside; got != test.want {
				t.Errorf("aside is %v, want %v", got, test.want)
			}
		})
	}
}

// Between heats an entry is told of the pack that was dealt to its next one.
func TestEntryGateKnowsWhatWasDealt(t *testing.T) {
	checked := day.BatteryChecked{Pack: "c1", Division: "junior", PackCheck: day.PackCheck{
		Reading: battery.Reading{AtUS: dayStart, Chemistry: battery.Alkaline, Cells: 2, OpenMV: 3100},
	}}
	dealt := day.PacksDealt{Heats: []day.DealtHeat{{Heat: "junior-1.1.1", Dealt: []battery.Dealt{{Entry: "e1", Pack: "c1"}}}}}
	tests := []struct {
		name   string
		events []day.Event
		pack   day.PackID
		codes  []string
	}{
		{"nothing is known", nil, "", []string{"battery-none"}},
		{"dealt", []day.Event{day.PacksAdded{Packs: []day.PackID{"c1"}}, checked, dealt}, "c1", nil},
		{"dealt and not checked", []day.Event{day.PacksAdded{Packs: []day.PackID{"c1"}}, dealt}, "c1", []string{"pack-unchecked"}},
		{
			"raced",
			[]day.Event{day.PacksAdded{Packs: []day.PackID{"c1"}}, checked, dealt, called, ready, started, recorded},
			"",
			[]string{"battery-none"},
		},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			s := given(t, append([]day.Event{day.DivisionAdded{Division: tableDivision()}, closed, drawn}, test.events...)...)
			g := inspection.EntryGate(s, "e1", dayStart)
			var codes []string
			for _, r := range g.Battery {
				codes = append(codes, string(r.Code))
			}
			if diff := cmp.Diff(test.codes, codes); diff != "" || g.Pack != test.pack {
				t.Errorf("pack %q (-want +got)\n%s", g.Pack, diff)
			}
		})
	}
}
