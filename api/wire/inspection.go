package wire

import (
	"benchmeet/api/gen"
	"benchmeet/domain/day"
	"benchmeet/domain/meet"
)

// ShowInspectionTry shows what an inspector found.
func ShowInspectionTry(t day.InspectionTry) gen.InspectionTry {
	out := gen.InspectionTry{
		At: Instant(t.AtUS), By: t.By, Values: ShowItemValues(t.Values), Passed: len(t.Failed) == 0, Says: ShowSays(t.Says()),
		FixUntil: OptInstant(t.FixUntilUS), Mark: Opt(t.Mark),
	}
	return out
}

// ShowItemValues shows what was measured of the items of a checklist.
func ShowItemValues(values []day.ItemValue) []gen.ItemValue {
	out := []gen.ItemValue{}
	for _, v := range values {
		out = append(out, gen.ItemValue{
			Item: v.Item, Value: OptThousandths(v.Value), Yes: v.Yes, Instrument: Opt(v.Instrument),
		})
	}
	return out
}

// ReadItemValues reads what was measured of the items of a checklist.
func ReadItemValues(values []gen.ItemValue) []day.ItemValue {
	var out []day.ItemValue
	for _, v := range values {
		out = append(out, day.ItemValue{
			Item: v.Item, Value: OptThousands(v.Value), Yes: v.Yes, Instrument: Deref(v.Instrument),
		})
	}
	return out
}

// ReadInspection reads what an inspector found of an entry's car.
func ReadInspection(entry string, b gen.InspectionBody) meet.InspectCar {
	return meet.InspectCar{
		Entry: day.EntryID(entry), Values: ReadItemValues(b.Values), Wrong: Deref(b.Wrong),
		FixUS: Microseconds(Deref(b.FixS)), Mark: Deref(b.Mark),
	}
}
