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
