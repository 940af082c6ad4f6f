package rest

import (
	"context"
	"errors"

	"benchmeet/api/gen"
	"benchmeet/api/intake"
	"benchmeet/domain/day"
	"benchmeet/domain/refusal"
)

// runs shows what benches measured.
type runs struct {
	reads
	intake *intake.Intake
	long   longRuns
}

// ListRuns lists all runs of the meet.
func (s runs) ListRuns(ctx context.Context, r gen.ListRunsRequestObject) (gen.ListRunsResponseObject, error) {
	return s.show(ctx, r.Meet, r.Params.AtLeast, "runs")
}

// GetTrace shows every stamp of a run.
func (s runs) GetTrace(ctx context.Context, r gen.GetTraceRequestObject) (gen.GetTraceResponseObject, error) {
	v, err := s.meetView(ctx, r.Meet, nil)
	if err != nil {
		return nil, err
	}
	run, there := v.State.Runs[day.RunID(r.Run)]
	if !there {
		return nil, refusal.New("no-run", "run", r.Run)
	}
	done, err := s.long.turn(ctx, v, run)
	if err != nil {
		return nil, err
	}
	train, _, err := s.intake.Train(ctx, s.club(ctx), run)
	if err == nil {
		return sentTrace{train, done}, nil
	}
	done()
	if errors.Is(err, intake.ErrNoStamps) {
		return nil, refusal.New("no-trace", "run", r.Run)
	}
	return nil, err
}
