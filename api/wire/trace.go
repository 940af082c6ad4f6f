package wire

import (
	"encoding/hex"

	"benchmeet/api/gen"
	"benchmeet/domain/trace"
)

// ShowTrace shows every stamp of a run.
func ShowTrace(train trace.Train) gen.Trace {
	sum := train.Hash()
	stamps := train.Stamps
	if stamps == nil {
		stamps = []int64{}
	}
	return gen.Trace{
		Bench: train.Bench, Boot: train.Boot, Run: train.Run, Sha256: hex.EncodeToString(sum[:]),
		StampsUs: stamps, Totals: ShowTotals(train.Totals),
	}
}

// ShowTotals shows what the node said of a run at its end. Start and clock are two
// figures that stand or fall together.
func ShowTotals(t trace.Totals) gen.ChunkTotals {
	out := gen.ChunkTotals{
		Chunks: t.Chunks, Stamps: t.Stamps, StartSource: OptWord[gen.ChunkTotalsStartSource](t.StartSource),
		DurationUs: Opt(t.DurationUS), Meet: Opt(t.Meet), Car: Opt(t.Car), Lost: Opt(t.Lost),
	}
	if t.StartSource != trace.StartNone {
		out.StartUs, out.StartDelayUs = &t.StartUS, &t.StartDelayUS
	}
	if len(t.RestartsUS) > 0 {
		out.RestartsUs = &t.RestartsUS
	}
	if t.ClockPPB != 0 || t.UClockPPB != 0 {
		out.ClockPpb, out.UClockPpb = &t.ClockPPB, &t.UClockPPB
	}
	return out
}
