package rest

import (
	"context"
	"errors"

	"benchmeet/api/gen"
	"benchmeet/api/intake"
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

// GetTrace shows every stamp of a run; to the public, of one that counts.
func (s runs) GetTrace(ctx context.Context, r gen.GetTraceRequestObject) (gen.GetTraceResponseObject, error) {
	v, err := s.meetView(ctx, r.Meet, nil)
	if err != nil {
		return nil, err
	}
	run, err := shownRun(ctx, v, r.Run)
	if err != nil {
		return nil, err
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
