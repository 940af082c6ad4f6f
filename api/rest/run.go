package rest

import (
	"context"
	"encoding/hex"
	"errors"

	"benchmeet/api/gen"
	"benchmeet/api/intake"
	"benchmeet/domain/day"
	"benchmeet/domain/trace"
)

// ListRuns lists all runs of the meet.
func (s *Server) ListRuns(ctx context.Context, r gen.ListRunsRequestObject) (gen.ListRunsResponseObject, error) {
	v, err := s.meetView(ctx, r.Meet, r.Params.AtLeast)
	if err != nil {
		return nil, err
	}
	return gen.ListRuns200JSONResponse(v.Runs()), nil
}

// GetTrace shows every stamp of a run.
func (s *Server) GetTrace(ctx context.Context, r gen.GetTraceRequestObject) (gen.GetTraceResponseObject, error) {
	v, err := s.meetView(ctx, r.Meet, nil)
	if err != nil {
		return nil, err
	}
	run, there := v.State.Runs[day.RunID(r.Run)]
	if !there {
		return nil, notFound("no-run", "run", r.Run)
	}
	train, _, err := s.Intake.Train(ctx, s.club(ctx), run)
	if errors.Is(err, intake.ErrNoStamps) {
		return nil, notFound("no-trace", "run", r.Run)
	}
	if err != nil {
		return nil, err
	}
	sum := train.Hash()
	t := train.Totals
	out := gen.GetTrace200JSONResponse{
		Bench: train.Bench, Boot: train.Boot, Run: train.Run, StampsUs: train.Stamps, Sha256: hex.EncodeToString(sum[:]),
		Totals: gen.ChunkTotals{Chunks: t.Chunks, Stamps: t.Stamps},
	}
	if out.StampsUs == nil {
		out.StampsUs = []int64{}
	}
	if t.StartSource != trace.StartNone {
		source := gen.ChunkTotalsStartSource(t.StartSource)
		out.Totals.StartSource, out.Totals.StartUs, out.Totals.StartDelayUs = &source, &t.StartUS, &t.StartDelayUS
	}
	if t.DurationUS > 0 {
		out.Totals.DurationUs = &t.DurationUS
	}
	if t.Meet != "" {
		out.Totals.Meet = &t.Meet
	}
	if t.Car != "" {
		out.Totals.Car = &t.Car
	}
	if t.Lost > 0 {
		out.Totals.Lost = &t.Lost
	}
	if len(t.RestartsUS) > 0 {
		out.Totals.RestartsUs = &t.RestartsUS
	}
	if t.ClockPPB != 0 || t.UClockPPB != 0 {
		out.Totals.ClockPpb, out.Totals.UClockPpb = &t.ClockPPB, &t.UClockPPB
	}
	return out, nil
}
