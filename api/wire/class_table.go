package wire

import (
	"benchmeet/api/gen"
	"benchmeet/domain/battery"
	"benchmeet/domain/day"
)

// ShowClassBattery shows what a class asks of packs; nil for nothing.
func ShowClassBattery(b *day.ClassBattery) *gen.ClassBattery {
	if b == nil {
		return nil
	}
	return &gen.ClassBattery{AsideAfter: Opt(b.AsideAfter), Windows: ShowWindows(b.Windows)}
}

// ReadClassBattery reads what a class asks of packs.
func ReadClassBattery(b *gen.ClassBattery) *day.ClassBattery {
	if b == nil {
		return nil
	}
	out := &day.ClassBattery{AsideAfter: Deref(b.AsideAfter)}
	for _, w := range b.Windows {
		out.Windows = append(out.Windows, battery.Window{
			Chemistry: battery.Chemistry(w.Chemistry), Cells: w.Cells, Open: *readSpan(&w.OpenV), Load: readSpan(w.LoadV),
			ResistanceMax: Deref(w.ResistanceMaxMohm), Temperature: readSpan(w.TemperatureC),
			ValidUS: Microseconds(Deref(w.ValidS)), RestUS: Microseconds(Deref(w.RestS)),
		})
	}
	return out
}

// ShowWindows shows the kinds of cells that race with their bounds.
func ShowWindows(ws battery.Windows) []gen.BatteryWindow {
	out := []gen.BatteryWindow{}
	for _, w := range ws {
		out = append(out, gen.BatteryWindow{
			Chemistry: Word[gen.Chemistry](w.Chemistry), Cells: w.Cells, OpenV: *showSpan(&w.Open), LoadV: showSpan(w.Load),
			ResistanceMaxMohm: Opt(w.ResistanceMax), TemperatureC: showSpan(w.Temperature),
			ValidS: Opt(Seconds(w.ValidUS)), RestS: Opt(Seconds(w.RestUS)),
		})
	}
	return out
}

func showSpan(s *battery.Span) *gen.Span {
	if s == nil {
		return nil
	}
	return &gen.Span{Min: Thousandths(s.Min), Max: Thousandths(s.Max)}
}

func readSpan(s *gen.Span) *battery.Span {
	if s == nil {
		return nil
	}
	return &battery.Span{Min: Thousands(s.Min), Max: Thousands(s.Max)}
}

// ShowChecklist shows what an inspector looks at.
func ShowChecklist(items []day.CheckItem) []gen.CheckItem {
	out := []gen.CheckItem{}
	for _, item := range items {
		out = append(out, gen.CheckItem{
			Id: item.ID, Name: item.Name, Min: Opt(Thousandths(item.Min)), Max: Opt(Thousandths(item.Max)),
			Unit: OptWord[gen.CheckItemUnit](units[item.Unit]), Instrument: Opt(item.Instrument),
		})
	}
	return out
}

// ReadChecklist reads what an inspector looks at.
func ReadChecklist(items *[]gen.CheckItem) []day.CheckItem {
	var out []day.CheckItem
	for _, item := range Deref(items) {
		unit := map[gen.CheckItemUnit]day.ItemUnit{"g": day.UnitMG, "mm": day.UnitUM}[Deref(item.Unit)]
		out = append(out, day.CheckItem{
			ID: item.Id, Name: item.Name, Unit: unit, Min: Thousands(Deref(item.Min)), Max: Thousands(Deref(item.Max)),
			Instrument: Deref(item.Instrument),
		})
	}
	return out
}

// units are those in which people read what is kept in thousandths.
var units = map[day.ItemUnit]string{day.UnitMG: "g", day.UnitUM: "mm"}
