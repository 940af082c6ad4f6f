package wire

import (
	"benchmeet/api/gen"
	"benchmeet/domain/battery"
	"benchmeet/domain/day"
	"benchmeet/domain/meet"
)

// ShowPackCheck shows what was measured of a pack and for whom.
func ShowPackCheck(c day.PackCheck, racer *gen.Racer) gen.PackCheck {
	return gen.PackCheck{
		At: Instant(c.AtUS), By: c.By, Racer: racer, Chemistry: string(c.Chemistry), Cells: c.Cells,
		OpenV: Thousandths(c.OpenMV), LoadV: OptThousandths(c.LoadMV), ResistanceMohm: c.ResistanceMOhm,
		UResistanceMohm: Opt(c.UMOhm), EmfV: Opt(Thousandths(c.EMFMV)), TemperatureC: OptThousandths(c.TemperatureMC),
		Hurt: c.Hurt, Instrument: Opt(c.Instrument), Accepted: len(c.Refused) == 0, Says: ShowSays(c.Says()),
	}
}

// ReadBatteryCheck reads what was measured of a pack.
func ReadBatteryCheck(pack string, b gen.BatteryCheckBody) meet.CheckBattery {
	c := meet.CheckBattery{
		Pack: day.PackID(pack), Entry: day.EntryID(Deref(b.Entry)), Division: day.DivisionID(Deref(b.Division)),
		Instrument: Deref(b.Instrument),
		Reading: battery.Reading{
			Chemistry: battery.Chemistry(b.Chemistry), Cells: b.Cells, OpenMV: Thousands(b.OpenV), LoadMV: OptThousands(b.LoadV),
			ResistanceMOhm: b.ResistanceMohm, TemperatureMC: OptThousands(b.TemperatureC), Hurt: Deref(b.Hurt),
		},
	}
	for _, p := range Deref(b.Loads) {
		c.Loads = append(c.Loads, battery.LoadPoint{MA: p.Ma, MV: Thousands(p.V)})
	}
	return c
}

// ReadDeal reads how packs are dealt to heats.
func ReadDeal(b gen.DealPacks) meet.DealPacks {
	c := meet.DealPacks{RaceMA: b.RaceMa, SpreadMV: b.SpreadMv, SpreadMOhm: b.SpreadMohm}
	for _, id := range b.Heats {
		c.Heats = append(c.Heats, day.HeatID(id))
	}
	return c
}
