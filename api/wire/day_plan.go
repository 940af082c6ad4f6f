package wire

import (
	"benchmeet/api/gen"
	"benchmeet/domain/day"
	"benchmeet/domain/dayplan"
	"benchmeet/domain/meet"
)

// ReadTelling reads with what times are told.
func ReadTelling(b gen.TellTimes) meet.TellTimes {
	c := meet.TellTimes{Reason: day.ReasonCode(Deref(b.Reason))}
	if b.Finish != nil {
		c.FinishUS = b.Finish.UnixMicro()
	}
	return c
}

// ReadHeatsOrder reads an order of the heats that wait.
func ReadHeatsOrder(b gen.OrderHeats) meet.OrderHeats {
	c := meet.OrderHeats{}
	for _, id := range b.Order {
		c.Heats = append(c.Heats, day.HeatID(id))
	}
	return c
}

// ReadSupposed reads what a day would be like otherwise.
func ReadSupposed(b gen.LookDayPlan) dayplan.Supposed {
	out := dayplan.Supposed{PauseUS: int64(Deref(b.PauseMin)) * 60_000_000, Improve: Deref(b.Improve)}
	for _, id := range Deref(b.BenchesOut) {
		out.Out = append(out.Out, day.BenchID(id))
	}
	for _, id := range Deref(b.BenchesBack) {
		out.Back = append(out.Back, day.BenchID(id))
	}
	for _, id := range Deref(b.Order) {
		out.Order = append(out.Order, day.HeatID(id))
	}
	return out
}
