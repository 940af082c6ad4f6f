package view

import (
	"benchmeet/api/gen"
	"benchmeet/api/wire"
	"benchmeet/domain/board"
	"benchmeet/domain/club"
	"benchmeet/domain/day"
)

// BenchOrder is what a bench has to do now in this meet.
func (v MeetView) BenchOrder(o board.Assignment) gen.BenchOrder {
	if o.Heat == "" {
		return gen.BenchOrder{
			Bench: string(o.Bench), Number: wire.Opt(v.State.Benches[o.Bench].Number),
			Kind: gen.BenchOrderKindFree, OutOfService: o.OutOfService,
		}
	}
	racer := v.Racer(o.Entry)
	out := gen.BenchOrder{
		Bench: string(o.Bench), Number: wire.Opt(v.State.Benches[o.Bench].Number), Kind: gen.BenchOrderKindHeat,
		OutOfService: o.OutOfService, Meet: &v.ID, Heat: wire.Opt(string(o.Heat)), Entry: &racer.Entry,
		StartNumber: &racer.StartNumber, DisplayName: racer.DisplayName,
		State: wire.OptWord[gen.BenchOrderState](o.State), Run: wire.Opt(string(o.Run)), RaceS: wire.Opt(wire.Seconds(o.RaceUS)),
		LapM: wire.Opt(wire.Metres(o.Class.LapUM)), WheelMm: wire.Opt(float64(o.Class.WheelUM) / 1e3), Release: wire.Opt(o.Class.Release),
		Pack: wire.Opt(string(o.Gate.Pack)), PackDealt: wire.Opt(o.Dealt),
		PackValidUntil: wire.OptInstant(o.Gate.PackValidUS), Held: wire.Opt(o.Held),
	}
	if len(o.Says) > 0 {
		list := wire.ShowSays(o.Says)
		out.Table = &list
	}
	return out
}

// Shown is an order as everybody may see it: without what a child's car lacks and with
// which battery it races.
func Shown(o gen.BenchOrder) gen.BenchOrder {
	o.Pack, o.PackDealt, o.PackValidUntil, o.Table, o.Held = nil, nil, nil, nil, nil
	return o
}

// mostNext is how many of those who wait a bench shows.
const mostNext = 5

// PracticeOrder is what a bench has to do while no heat needs it.
func PracticeOrder(s *club.State, bench day.BenchID, out bool) gen.BenchOrder {
	order := gen.BenchOrder{
		Bench: string(bench), Number: wire.Opt(s.Benches[bench].Number), Kind: gen.BenchOrderKindFree, OutOfService: out,
	}
	if one, open := s.SessionOf(bench); open {
		waiting := Queue(s, one)
		waiting = waiting[:min(mostNext, len(waiting))]
		order.Session, order.Turns, order.Next = wire.Opt(one.ID), wire.Opt(one.Turn), &waiting
	}
	armed, there := s.Armed[bench]
	if !there {
		if check, slot, next := s.NextReference(bench); next {
			order.Reference = &gen.ReferenceOrder{
				Meet: check.Meet, Check: check.Number, Slot: &slot.Slot,
				CarNumber: s.Cars.At(day.CarID(slot.Car)).Number, RaceS: wire.Seconds(check.RaceUS),
			}
		}
		return order
	}
	if r := armed.Reference; r != nil {
		order.Reference = &gen.ReferenceOrder{
			Meet: r.Meet, Check: r.Check, CarNumber: s.Cars.At(armed.Car).Number, RaceS: wire.Seconds(armed.RaceUS),
		}
	}
	order.Kind, order.Run, order.RaceS = gen.BenchOrderKindPractice, wire.Opt(string(armed.Run)), wire.Opt(wire.Seconds(armed.RaceUS))
	order.Turn, order.Again, order.Guessed = wire.Opt(armed.Turn), wire.Opt(armed.Again), wire.Opt(armed.GuessUM > 0)
	order.ArmedAt = wire.OptInstant(armed.AtUS)
	car := s.Cars.At(armed.Car)
	order.StartNumber, order.WheelMm = wire.Opt(car.Number), wire.Opt(float64(car.WheelUM)/1e3)
	return order
}
