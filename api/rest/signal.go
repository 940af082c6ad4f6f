package rest

import (
	"context"
	"errors"

	"benchmeet/api/gen"
	"benchmeet/api/intake"
	"benchmeet/api/wire"
	"benchmeet/domain/day"
	"benchmeet/domain/refusal"
	"benchmeet/domain/signal"
	"benchmeet/domain/trace"
)

// The grid of the plot: as fine as a phone shows it.
const plotColumns, plotRows = 100, 30

// signalUS is how much of a run is looked at: more says no more, and costs time.
const signalUS = 60_000_000

// GetPracticeSignal says whether the bench of a practice run can be raced on.
func (s practice) GetPracticeSignal(
	ctx context.Context, r gen.GetPracticeSignalRequestObject,
) (gen.GetPracticeSignalResponseObject, error) {
	state, err := s.clubState(ctx)
	if err != nil {
		return nil, err
	}
	made, there := state.PracticeRun(day.RunID(r.Run))
	if !there {
		return nil, refusal.New("no-practice-run", "run", day.RunID(r.Run))
	}
	if err := benchAllowed(Caller(ctx), string(made.Bench)); err != nil {
		return nil, err
	}
	// The club keeps the name under which the run is recorded alone, as old events did.
	asOld := day.Run{ID: made.ID, Bench: made.Bench, Boot: made.Boot, Trace: made.Trace, Old: 1}
	train, _, err := s.intake.Train(ctx, s.club(ctx), asOld)
	if errors.Is(err, intake.ErrNoStamps) {
		return nil, refusal.New("no-trace", "run", r.Run)
	}
	if err != nil {
		return nil, err
	}
	return gen.GetPracticeSignal200JSONResponse(lookAt(train, state.Benches[made.Bench].Marks)), nil
}

// lookAt looks at the stamps of a run. What the way from the box lost, and a box that
// started anew, go before what the stamps say: they would look like faults of the sensor.
func lookAt(train trace.Train, marks int) gen.SignalLook {
	stamps, until := train.Stamps, int64(0)
	if t := train.Totals; t.DurationUS > 0 {
		until = t.StartUS + t.DurationUS
	}
	for i, at := range stamps {
		if at-stamps[0] > signalUS {
			stamps, until = stamps[:i], 0
			break
		}
	}
	report := signal.Look(stamps, marks, until)
	out := gen.SignalLook{
		Good: report.Good(), Marks: report.Marks, Rpm: wire.Opt(report.RPM),
		Plot: drawn(signal.Draw(stamps, until, plotColumns, plotRows)),
	}
	if len(report.MarkAngles) > 1 {
		out.MarkAngles = &report.MarkAngles
	}
	fault := gen.SignalLookFault(report.Fault)
	switch t := train.Totals; {
	case len(t.RestartsUS) > 0:
		fault = gen.Restarted
	case t.Lost > 0:
		fault = gen.Lost
	case report.Good():
		out.SafeRpm = wire.Opt(report.SafeRPM)
		return out
	}
	out.Good, out.Fault = false, &fault
	return out
}

// drawn is a plot for a page; nothing where there is none.
func drawn(p signal.Plot) *gen.SignalPlot {
	if len(p.Dots) == 0 {
		return nil
	}
	out := gen.SignalPlot{Columns: p.Columns, Rows: p.Rows, Seconds: p.Seconds, TopMs: p.TopUS / 1000, Dots: make([][]int, 0, len(p.Dots))}
	for _, dot := range p.Dots {
		out.Dots = append(out.Dots, []int{dot.Column, dot.Row})
	}
	return &out
}
