package view

import (
	"benchmeet/api/gen"
	"benchmeet/api/wire"
	"benchmeet/domain/battery"
	"benchmeet/domain/day"
)

func classBattery(b *day.ClassBattery) *gen.ClassBattery {
	if b == nil {
		return nil
	}
	return &gen.ClassBattery{AsideAfter: wire.Opt(b.AsideAfter), Windows: Windows(b.Windows)}
}

// Windows are battery windows in the contract's units.
func Windows(ws battery.Windows) []gen.BatteryWindow {
	out := []gen.BatteryWindow{}
	for _, w := range ws {
		out = append(out, gen.BatteryWindow{
			Chemistry: wire.Word[gen.Chemistry](w.Chemistry), Cells: w.Cells, OpenV: *span(&w.Open), LoadV: span(w.Load),
			ResistanceMaxMohm: wire.Opt(w.ResistanceMax), TemperatureC: span(w.Temperature),
			ValidS: wire.Opt(wire.Seconds(w.ValidUS)), RestS: wire.Opt(wire.Seconds(w.RestUS)),
		})
	}
	return out
}

func span(s *battery.Span) *gen.Span {
	if s == nil {
		return nil
	}
	return &gen.Span{Min: wire.Thousandths(s.Min), Max: wire.Thousandths(s.Max)}
}

// Checklist is a checklist in the contract's units.
func Checklist(items []day.CheckItem) []gen.CheckItem {
	out := []gen.CheckItem{}
	for _, item := range items {
		out = append(out, gen.CheckItem{
			Id: item.ID, Name: item.Name, Min: wire.Opt(wire.Thousandths(item.Min)), Max: wire.Opt(wire.Thousandths(item.Max)),
			Unit: wire.OptWord[gen.CheckItemUnit](units[item.Unit]), Instrument: wire.Opt(item.Instrument),
		})
	}
	return out
}

// units are those in which people read what is kept in thousandths.
var units = map[day.ItemUnit]string{day.UnitMG: "g", day.UnitUM: "mm"}
