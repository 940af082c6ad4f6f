package wire

import (
	"benchmeet/api/gen"
	"benchmeet/domain/day"
	"benchmeet/domain/meet"
)

// ReadCall reads which benches a heat is called to; none is for the core to choose.
func ReadCall(heat string, b gen.CallHeat) meet.CallHeat {
	c := meet.CallHeat{Heat: day.HeatID(heat), Short: Deref(b.Short)}
	for _, bench := range Deref(b.Benches) {
		c.Benches = append(c.Benches, day.BenchID(bench))
	}
	return c
}

// ReadHeatOrder reads where a heat is moved, or until when it is held.
func ReadHeatOrder(heat string, b gen.OrderHeat) meet.Command {
	id := day.HeatID(heat)
	switch b.Move {
	case gen.OrderHeatMoveHold:
		until := int64(-1) // an instant is missing
		if b.Until != nil {
			until = b.Until.UnixMicro()
		}
		return meet.HoldHeat{Heat: id, UntilUS: until}
	case gen.OrderHeatMoveLetGo:
		return meet.HoldHeat{Heat: id}
	}
	return meet.OrderHeat{Heat: id, Move: Word[meet.HeatMove](b.Move)}
}

// ReadReady reads what a bench confirms.
func ReadReady(heat string, b gen.ConfirmReady) meet.ConfirmReady {
	return meet.ConfirmReady{
		Heat: day.HeatID(heat), Bench: day.BenchID(b.Bench), StartNumber: b.StartNumber, Pack: day.PackID(Deref(b.Pack)),
	}
}

// ReadLeave reads which called car is left over.
func ReadLeave(heat string, b gen.LeaveLane) meet.LeaveLane {
	return meet.LeaveLane{Heat: day.HeatID(heat), Entry: day.EntryID(b.Entry)}
}

// ReadMove reads which car goes to which bench.
func ReadMove(heat string, b gen.MoveLane) meet.MoveLane {
	return meet.MoveLane{Heat: day.HeatID(heat), Entry: day.EntryID(b.Entry), Bench: day.BenchID(b.Bench)}
}

// ReadHandCount reads a counted distance.
func ReadHandCount(heat string, b gen.HandCount) meet.RecordHandCount {
	c := meet.RecordHandCount{
		Heat: day.HeatID(heat), Entry: day.EntryID(b.Entry),
		DistanceUM: Micrometres(b.DistanceM), UDistanceUM: Micrometres(b.UDistanceM),
	}
	if b.Counted != nil {
		c.ClaimedUS = b.Counted.UnixMicro()
	}
	return c
}
