package view

import (
	"benchmeet/api/gen"
	"benchmeet/domain/board"
	"benchmeet/domain/club"
	"benchmeet/domain/day"
)

// BenchOrder is what a bench has to do now in this meet.
func (v MeetView) BenchOrder(o board.BenchOrder) gen.BenchOrder {
	if o.Heat == "" {
		return gen.BenchOrder{
			Bench: string(o.Bench), Number: opt(v.State.Benches[o.Bench].Number),
			Kind: gen.BenchOrderKindFree, OutOfService: o.OutOfService,
		}
	}
	racer := v.Racer(o.Entry)
	out := gen.BenchOrder{
		Bench: string(o.Bench), Number: opt(v.State.Benches[o.Bench].Number), Kind: gen.BenchOrderKindHeat,
		OutOfService: o.OutOfService, Meet: &v.ID, Heat: opt(string(o.Heat)), Entry: &racer.Entry,
		StartNumber: &racer.StartNumber, DisplayName: racer.DisplayName,
		State: optWord[gen.BenchOrderState](o.State), Run: opt(string(o.Run)), RaceS: opt(seconds(o.RaceUS)),
		LapM: opt(metres(o.Class.LapUM)), WheelMm: opt(float64(o.Class.WheelUM) / 1e3), Release: opt(o.Class.Release),
		Pack: opt(string(o.Gate.Pack)), PackDealt: opt(o.Dealt), PackValidUntil: optInstant(o.Gate.PackValidUS), Held: opt(o.Held),
	}
	if len(o.Says) > 0 {
		list := says(o.Says)
		out.Table = &list
	}
	return out
}

// PracticeOrder is what a bench has to do while no heat needs it.
func PracticeOrder(s *club.State, bench day.BenchID, out bool) gen.BenchOrder {
	order := gen.BenchOrder{
		Bench: string(bench), Number: opt(s.Benches[bench].Number), Kind: gen.BenchOrderKindFree, OutOfService: out,
	}
	armed, there := s.Armed[bench]
	if !there {
		if check, slot, next := s.NextReference(bench); next {
			order.Reference = &gen.ReferenceOrder{
				Meet: check.Meet, Check: check.Number, Slot: &slot.Slot,
				CarNumber: s.Cars.At(day.CarID(slot.Car)).Number, RaceS: seconds(check.RaceUS),
			}
		}
		return order
	}
	if r := armed.Reference; r != nil {
		order.Reference = &gen.ReferenceOrder{
			Meet: r.Meet, Check: r.Check, CarNumber: s.Cars.At(armed.Car).Number, RaceS: seconds(armed.RaceUS),
		}
	}
	order.Kind, order.Run, order.RaceS = gen.BenchOrderKindPractice, opt(string(armed.Run)), opt(seconds(armed.RaceUS))
	car := s.Cars.At(armed.Car)
	order.StartNumber, order.WheelMm = opt(car.Number), opt(float64(car.WheelUM)/1e3)
	return order
}
