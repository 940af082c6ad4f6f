package rest

import (
	"context"
	"errors"

	"benchmeet/api/auth"
	"benchmeet/api/gen"
	"benchmeet/api/intake"
	"benchmeet/api/view"
	"benchmeet/domain/day"
	"benchmeet/domain/evidence"
	"benchmeet/domain/refusal"
)

// GetCurve shows a run with its speed over time.
func (s runs) GetCurve(ctx context.Context, r gen.GetCurveRequestObject) (gen.GetCurveResponseObject, error) {
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
	defer done()
	again, err := s.remeasure(ctx, v, run)
	if err != nil {
		return nil, err
	}
	return gen.GetCurve200JSONResponse(v.Curve(run, again)), nil
}

// GetRunDifference compares two runs.
func (s runs) GetRunDifference(ctx context.Context, r gen.GetRunDifferenceRequestObject) (gen.GetRunDifferenceResponseObject, error) {
	v, err := s.meetView(ctx, r.Meet, nil)
	if err != nil {
		return nil, err
	}
	run, err := shownRun(ctx, v, r.Run)
	if err != nil {
		return nil, err
	}
	from, err := shownRun(ctx, v, r.Params.From)
	if err != nil {
		return nil, err
	}
	done, err := s.long.turn(ctx, v, run, from)
	if err != nil {
		return nil, err
	}
	defer done()
	again, err := s.remeasure(ctx, v, run)
	if err != nil {
		return nil, err
	}
	fromAgain, err := s.remeasure(ctx, v, from)
	if err != nil {
		return nil, err
	}
	return gen.GetRunDifference200JSONResponse(v.Difference(run, from, again, fromAgain)), nil
}

// shownRun finds a run that the caller may see: families see those that count.
func shownRun(ctx context.Context, v view.MeetView, id string) (day.Run, error) {
	run, there := v.State.Runs[day.RunID(id)]
	switch {
	case !there:
		return run, refusal.New("no-run", "run", id)
	case Caller(ctx).Role == auth.Public && !v.State.Counting(run):
		return run, refusal.New("run-not-shown", "run", id)
	}
	return run, nil
}

// remeasure measures a run again from its stamps; nil where it has none, or where
// the meet does not know its bench.
func (s runs) remeasure(ctx context.Context, v view.MeetView, run day.Run) (*evidence.Curve, error) {
	found, err := s.intake.Recorded(ctx, s.club(ctx), v.State, run)
	if errors.Is(err, intake.ErrNoStamps) || errors.Is(err, intake.ErrNoBench) { // counted by hand, or not here
		return nil, nil
	}
	if err != nil {
		return nil, err
	}
	c, err := found.Curve()
	if err != nil {
		return nil, err
	}
	return &c, nil
}
