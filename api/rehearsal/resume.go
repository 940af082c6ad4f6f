package rehearsal

import (
	"context"
	"fmt"
	"net/http"
	"time"

	"benchmeet/api/gen"
)

// GoOn goes on with a day that was left in the middle, whenever that was. What was
// ordered before is ordered again under the same ids, which changes nothing; heats
// that were left at the benches are voided, for their cars are gone, and raced
// again. Where the day is over it does nothing more.
func (d *Day) GoOn(ctx context.Context) error {
	for _, step := range []func(context.Context) error{d.setUp, d.planMeet, d.enter, inspector{d}.inspect} {
		if err := step(ctx); err != nil {
			return err
		}
	}
	var m gen.Meet
	if err := d.page(ctx, "", &m); err != nil {
		return err
	}
	over := true
	for _, div := range m.Divisions {
		over = over && div.Published > 0
		d.rounds[div.Id] = div.Round
		if div.Stage > 1 {
			d.rounds[div.Id] += d.division(div.Id).Rounds
		}
	}
	if over {
		return nil
	}
	d.visit = fmt.Sprint("since ", m.Seq, " ", time.Now().UnixNano()) // what is ordered now was not ordered before
	if err := d.clearBenches(ctx, m); err != nil {
		return err
	}
	if err := d.decide(ctx); err != nil {
		return err
	}
	if err := d.raceAll(ctx); err != nil {
		return err
	}
	d.visit = ""
	if err := (inspector{d}).returnPacks(ctx); err != nil {
		return err
	}
	return d.publish(ctx)
}

func (d *Day) division(id string) Division {
	for _, v := range d.plan.Divisions {
		if v.ID == id {
			return v
		}
	}
	return Division{}
}

// clearBenches voids what stands at the benches and puts those back that were
// taken out of service.
func (d *Day) clearBenches(ctx context.Context, m gen.Meet) error {
	var all gen.HeatList
	if err := d.page(ctx, "/heats", &all); err != nil {
		return err
	}
	for _, h := range all.Heats {
		if h.Phase != gen.HeatPhaseCalled && h.Phase != gen.HeatPhaseRacing {
			continue
		}
		body := gen.RulingBody{Kind: gen.RulingBodyKindVoid, Heat: &h.Id, Reason: gen.Reason{Code: "power"}}
		if _, err := d.order(ctx, "meet", http.MethodPost, d.meetPath("/rulings"), body, "void", h.Id); err != nil {
			return err
		}
	}
	for _, b := range m.Benches {
		if b.OutOfService {
			if err := (starter{d}).service(ctx, b.Id, false, "again"); err != nil {
				return err
			}
		}
	}
	return nil
}
