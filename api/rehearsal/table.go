package rehearsal

import (
	"context"
	"fmt"
	"math"

	"benchmeet/api/gen"
	"benchmeet/domain/simulate"
)

// classTable is what the cars of a rehearsal have to show: bounds of fresh, rested
// pairs of cells (common practice), and what any car is looked at for.
func classTable() (*gen.ClassBattery, *[]gen.CheckItem) {
	span := func(least, most float64) gen.Span { return gen.Span{Min: least, Max: most} }
	load, valid, aside := span(2.7, 3.3), 7200.0, 3
	grams, millimetres := gen.CheckItemUnit("g"), gen.CheckItemUnit("mm")
	mass, wide, scale, calliper := 180.0, 80.0, "scale", "calliper"
	return &gen.ClassBattery{AsideAfter: &aside, Windows: []gen.BatteryWindow{
		{Chemistry: "alkaline", Cells: 2, OpenV: span(3, 3.3), LoadV: &load, ValidS: &valid},
		{Chemistry: "nickel-metal-hydride", Cells: 2, OpenV: span(2.5, 2.9), ValidS: &valid},
	}}, &[]gen.CheckItem{
		{Id: "mass", Name: "Weight with battery", Unit: &grams, Max: &mass, Instrument: &scale},
		{Id: "width", Name: "Width", Unit: &millimetres, Max: &wide, Instrument: &calliper},
		{Id: "loose", Name: "Nothing is loose and nothing sticks out"},
	}
}

// inspector sits at the table and lends packs.
type inspector struct{ *Day }

// lentPacks is how many packs the club brings.
const lentPacks = 6

// inspect has the inspector's table at work before the first draw: every car is
// looked at but one, and every battery measured but one. Some do not pass at
// first, and some racers have a pack of the club.
func (d inspector) inspect(ctx context.Context) error {
	if !d.plan.Checks {
		return nil
	}
	if err := d.bringPacks(ctx); err != nil {
		return err
	}
	for i, e := range d.plan.Entries {
		if e.Absent || i == 7 {
			continue
		}
		if err := d.inspectCar(ctx, i, e); err != nil {
			return err
		}
		if err := d.giveBattery(ctx, i, e); err != nil {
			return err
		}
	}
	return nil
}

func (d inspector) inspectCar(ctx context.Context, i int, e Entry) error {
	rng := simulate.Source(simulate.Key(d.plan.Seed, "inspection", entryID(e.Number)))
	mass, wide, tight := tenths(150+25*rng.Float64()), tenths(60+15*rng.Float64()), true
	look := func(mass float64, visit string) error {
		body := gen.InspectionBody{
			Values: []gen.ItemValue{{Item: "mass", Value: &mass}, {Item: "width", Value: &wide}, {Item: "loose", Yes: &tight}},
		}
		if mass > 180 {
			fix := 1800.0
			body.FixS = &fix
		}
		_, err := d.post(ctx, "/entries/"+entryID(e.Number)+"/inspection", body, visit)
		return err
	}
	if i%6 == 4 { // too heavy at first
		if err := look(tenths(mass+31), "first"); err != nil {
			return err
		}
	}
	return look(mass, "then")
}

// giveBattery has a pack measured for an entry: one of the club's, or its own,
// which is too empty for some until they come with another.
func (d inspector) giveBattery(ctx context.Context, i int, e Entry) error {
	id := entryID(e.Number)
	if i%5 == 2 && i/5 < lentPacks {
		pack := lentPack(i / 5)
		_, err := d.post(ctx, "/packs/"+pack+"/issue", gen.IssuePack{Entry: id}, id)
		return err
	}
	key := simulate.Key(d.plan.Seed, "battery", id)
	if i%6 == 1 {
		body := reading(key, i%3 == 1)
		body.Entry, body.OpenV = &id, body.OpenV-0.75
		body.Loads, body.LoadV = nil, nil
		if err := d.measure(ctx, fmt.Sprintf("%d-A", e.Number), body); err != nil {
			return err
		}
	}
	body := reading(key, i%3 == 1)
	body.Entry = &id
	return d.measure(ctx, fmt.Sprintf("%d-B", e.Number), body)
}

// bringPacks brings the club's packs and measures them.
func (d inspector) bringPacks(ctx context.Context) error {
	body := gen.AddPacks{}
	for n := range lentPacks {
		body.Packs = append(body.Packs, lentPack(n))
	}
	if _, err := d.post(ctx, "/packs", body); err != nil {
		return err
	}
	for n, pack := range body.Packs {
		check := reading(simulate.Key(d.plan.Seed, "lent pack", pack), true)
		check.Division = &d.plan.Divisions[n%len(d.plan.Divisions)].ID
		if err := d.measure(ctx, pack, check); err != nil {
			return err
		}
	}
	return nil
}

func lentPack(n int) string { return fmt.Sprintf("C%d", n+1) }

func (d inspector) measure(ctx context.Context, pack string, body gen.BatteryCheckBody) error {
	meter := "meter 1"
	body.Instrument = &meter
	_, err := d.post(ctx, "/packs/"+pack+"/check", body, pack)
	return err
}

// reading is what a fresh pair of cells shows, measured at rest and at two loads.
func reading(key uint64, hydride bool) gen.BatteryCheckBody {
	rng := simulate.Source(key)
	chemistry, open, ohm := gen.Chemistry("alkaline"), 3.16+0.1*rng.Float64(), 0.35+0.2*rng.Float64()
	if hydride {
		chemistry, open, ohm = "nickel-metal-hydride", 2.62+0.14*rng.Float64(), 0.06+0.06*rng.Float64()
	}
	least, most := thousandths(open-0.005*ohm), thousandths(open-0.505*ohm)
	degrees := tenths(19 + 3*rng.Float64())
	return gen.BatteryCheckBody{
		Chemistry: chemistry, Cells: 2, OpenV: thousandths(open), LoadV: &most, TemperatureC: &degrees,
		Loads: &[]gen.LoadPoint{{Ma: 5, V: least}, {Ma: 505, V: most}},
	}
}

// returnPacks takes the club's packs back.
func (d inspector) returnPacks(ctx context.Context) error {
	if !d.plan.Checks {
		return nil
	}
	for i, e := range d.plan.Entries {
		if e.Absent || i == 7 || i%5 != 2 || i/5 >= lentPacks {
			continue
		}
		if _, err := d.post(ctx, "/packs/"+lentPack(i/5)+"/return", gen.ReturnPack{}); err != nil {
			return err
		}
	}
	return nil
}

func tenths(v float64) float64      { return math.Round(v*10) / 10 }
func thousandths(v float64) float64 { return math.Round(v*1000) / 1000 }
