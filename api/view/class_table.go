package view

import (
	"benchmeet/api/gen"
	"benchmeet/domain/battery"
	"benchmeet/domain/day"
)

// thousandths shows mV as V, m°C as °C, mg as g and µm as mm.
func thousandths(v int64) float64 { return float64(v) / 1e3 }

func optThousandths(v *int64) *float64 {
	if v == nil {
		return nil
	}
	out := thousandths(*v)
	return &out
}

func classBattery(b *day.ClassBattery) *gen.ClassBattery {
	if b == nil {
		return nil
	}
	return &gen.ClassBattery{AsideAfter: opt(b.AsideAfter), Windows: Windows(b.Windows)}
}

// Windows are battery windows in the contract's units.
func Windows(ws battery.Windows) []gen.BatteryWindow {
	out := []gen.BatteryWindow{}
	for _, w := range ws {
		out = append(out, gen.BatteryWindow{
			Chemistry: word[gen.Chemistry](w.Chemistry), Cells: w.Cells, OpenV: *span(&w.Open), LoadV: span(w.Load),
			ResistanceMaxMohm: opt(w.ResistanceMax), TemperatureC: span(w.Temperature),
			ValidS: opt(seconds(w.ValidUS)), RestS: opt(seconds(w.RestUS)),
		})
	}
	return out
}

func span(s *battery.Span) *gen.Span {
	if s == nil {
		return nil
	}
	return &gen.Span{Min: thousandths(s.Min), Max: thousandths(s.Max)}
}

// Checklist is a checklist in the contract's units.
func Checklist(items []day.CheckItem) []gen.CheckItem {
	out := []gen.CheckItem{}
	for _, item := range items {
		out = append(out, gen.CheckItem{
			Id: item.ID, Name: item.Name, Min: opt(thousandths(item.Min)), Max: opt(thousandths(item.Max)),
			Unit: optWord[gen.CheckItemUnit](units[item.Unit]), Instrument: opt(item.Instrument),
		})
	}
	return out
}

// units are those in which people read what is kept in thousandths.
var units = map[day.ItemUnit]string{day.UnitMG: "g", day.UnitUM: "mm"}
