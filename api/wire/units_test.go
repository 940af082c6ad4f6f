package wire_test

import (
	"testing"
	"time"

	"benchmeet/api/gen"
	"benchmeet/api/wire"
	"benchmeet/domain/battery"
	"benchmeet/domain/club"
	"benchmeet/domain/day"
	"benchmeet/domain/meet"
	"benchmeet/domain/rating"
	"benchmeet/domain/roller"
)

// TestUnitsAreThoseOfTheLog: the contract speaks in m, mm, s, V, °C, g and ratios, and
// the log keeps µm, µs, mV, m°C, mg, ns, 1e-9 and 1e-6, as their fields say.
func TestUnitsAreThoseOfTheLog(t *testing.T) {
	at := time.Date(2026, 5, 1, 12, 0, 0, 1000, time.UTC)
	same(t, "a class", day.CarClass{Name: "A", WheelUM: 26_500, LapUM: 20_250_000, MassMaxG: 180},
		wire.ReadClass(gen.CarClass{Name: "A", WheelMm: new(26.5), LapM: 20.25, MassMaxG: new(180)}))
	same(t, "a bench", day.Bench{ID: "b", CircumferenceUM: 94_248, UCircumUM: 20, Marks: 2, StampNS: 500, ClockPPB: 1500, FactorPPM: -2500},
		wire.ReadBench(
			"b",
			gen.BenchBody{
				CircumferenceMm: 94.248, CircumferenceUMm: new(0.02), MarksPerTurn: new(2), StampUs: new(0.5), ClockPpm: new(1.5), Factor: new(0.9975),
			},
		))
	same(t, "a rolled bench", roller.Rolled{Turns: 25, LengthUM: 2_357_500, WithinUM: 1500}, wire.ReadBench("b", gen.BenchBody{
		CircumferenceMm: 94.3, Rolled: &gen.RolledRoller{Turns: 25, LengthMm: 2357.5, WithinMm: 1.5},
	}).Rolled)
	same(t, "a bench across", roller.Caliper{DiameterUM: 30_050, WithinUM: 20}, wire.ReadBench("b", gen.BenchBody{
		CircumferenceMm: 94.4, Caliper: &gen.CaliperRoller{DiameterMm: 30.05, WithinMm: 0.02},
	}).Caliper)
	same(t, "rules", day.Rules{ProtestUS: 1_500_000, CallUS: 120_000_000}, wire.ReadRules(gen.Rules{ProtestS: 1.5, CallS: 120}))
	same(t, "a stage", int64(60_500_000), stageOf(gen.StageBody{Kind: "timed-rounds", RaceS: 60.5}).RaceUS)
	same(t, "a car", club.Car{ID: "c", WheelUM: 26_001}, wire.ReadCar("c", gen.CarBody{WheelMm: new(26.001)}))
	same(t, "windows", &day.ClassBattery{Windows: battery.Windows{{
		Open: battery.Span{Min: 2700, Max: 3250}, Temperature: &battery.Span{Min: -5500, Max: 35_000},
		ValidUS: 7_200_000_000, RestUS: 300_000_000,
	}}}, wire.ReadClassBattery(&gen.ClassBattery{Windows: []gen.BatteryWindow{{
		OpenV: gen.Span{Min: 2.7, Max: 3.25}, TemperatureC: &gen.Span{Min: -5.5, Max: 35}, ValidS: new(7200.0), RestS: new(300.0),
	}}}))
	same(t, "a checklist", []day.CheckItem{{ID: "mass", Unit: day.UnitMG, Max: 180_500}, {ID: "width", Unit: day.UnitUM, Min: 40_125}},
		wire.ReadChecklist(&[]gen.CheckItem{
			{Id: "mass", Unit: new(gen.CheckItemUnit("g")), Max: new(180.5)}, {Id: "width", Unit: new(gen.CheckItemUnit("mm")), Min: new(40.125)},
		}))
	same(t, "a battery check", meet.CheckBattery{
		Pack:    "p",
		Reading: battery.Reading{OpenMV: 3105, LoadMV: new(int64(2876)), ResistanceMOhm: new(int64(250)), TemperatureMC: new(int64(21_500))},
		Loads:   []battery.LoadPoint{{MA: 505, MV: 2876}},
	}, wire.ReadBatteryCheck("p", gen.BatteryCheckBody{
		OpenV: 3.105, LoadV: new(2.876), ResistanceMohm: new(int64(250)), TemperatureC: new(21.5), Loads: &[]gen.LoadPoint{{Ma: 505, V: 2.876}},
	}))
	same(t, "an inspection", meet.InspectCar{
		Entry: "e", FixUS: 600_000_000, Values: []day.ItemValue{{Item: "mass", Value: new(int64(171_500))}},
	},
		wire.ReadInspection("e", gen.InspectionBody{FixS: new(600.0), Values: []gen.ItemValue{{Item: "mass", Value: new(171.5)}}}))
	same(t, "a hand count", meet.RecordHandCount{
		Heat: "h", Entry: "e", DistanceUM: 12_500_000, UDistanceUM: 250_000, ClaimedUS: at.UnixMicro(),
	},
		wire.ReadHandCount("h", gen.HandCount{Entry: "e", DistanceM: 12.5, UDistanceM: 0.25, Counted: &at}))
	same(t, "an armed practice run", club.ArmPractice{Bench: "b", RaceUS: 30_000_000}, wire.ReadArming("b", gen.ArmPractice{RaceS: 30}))
	same(t, "a changed car", club.ChangeCar{Number: 7, NotedUS: at.UnixMicro()}, wire.ReadCarChange(7, gen.ChangeCar{Noted: &at}))
	same(t, "a reference check", club.BeginCheck{Meet: "m", RaceUS: 20_000_000}, wire.ReadCheck("m", gen.BeginReferenceCheck{RaceS: 20}))
	penalty, err := wire.ReadRuling(gen.RulingBody{Kind: "penalise", Heat: new("h"), Entry: new("e"), PenaltyM: new(2.5)}, day.Reason{}, false)
	same(t, "a penalty", meet.Command(meet.Penalise{Heat: "h", Entry: "e", UM: 2_500_000}), penalty)
	same(t, "its error", nil, err)

	same(t, "a rating", gen.Rating{Rating: 1512.345, Deviation: 80.5, Volatility: 0.06},
		wire.ShowRating(club.Rating{Kept: rating.Kept{Milli: 1_512_345, DeviationMilli: 80_500, VolatilityNano: 60_000_000}}))
	same(t, "an instant", at, wire.ShowRuling(day.Ruling{AtUS: at.UnixMicro()}, "", nil).At)
}
