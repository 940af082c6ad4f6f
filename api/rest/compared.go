package rest

import (
	"context"
	"errors"
	"math"
	"sync"

	"benchmeet/api/gen"
	"benchmeet/api/intake"
	"benchmeet/api/view"
	"benchmeet/api/wire"
	"benchmeet/domain/club"
	"benchmeet/domain/day"
	"benchmeet/domain/evidence"
	"benchmeet/domain/quicker"
	"benchmeet/domain/refusal"
	"benchmeet/domain/tuning"
)

// comparedCars compares cars with themselves: what a change did.
type comparedCars struct {
	orders
	intake *intake.Intake
	traits *runTraits
}

// runTraits keeps what the speed of runs over time tells: reading it takes all stamps, and
// no run ever changes.
type runTraits struct {
	mu   sync.Mutex
	kept map[traitsKey]quicker.Traits
}

type traitsKey struct {
	club string
	run  day.RunID
}

// mostTraits bounds what is kept: those of a season.
const mostTraits = 20_000

// GetCompared says whether a car is quicker in one state than in another.
func (s comparedCars) GetCompared(ctx context.Context, r gen.GetComparedRequestObject) (gen.GetComparedResponseObject, error) {
	state, car, err := s.numbered(ctx, r.Number)
	if err != nil {
		return nil, err
	}
	traits := s.reading(ctx, state)
	report, err := quicker.Compare(state, car.ID, r.Params.From, r.Params.To, traits.of)
	if err := errors.Join(err, traits.failed); err != nil {
		return nil, err
	}
	return gen.GetCompared200JSONResponse(view.Compared(state, report)), nil
}

// GetBeside compares a car with another one, or two benches by it.
func (s comparedCars) GetBeside(ctx context.Context, r gen.GetBesideRequestObject) (gen.GetBesideResponseObject, error) {
	state, car, err := s.numbered(ctx, r.Number)
	if err != nil {
		return nil, err
	}
	traits := s.reading(ctx, state)
	var report quicker.Report
	if r.Params.Car != nil {
		report, err = quicker.CompareCars(state, car.ID, state.Numbers.At(*r.Params.Car), traits.of)
	} else {
		first, second := day.BenchID(wire.Deref(r.Params.Bench)), day.BenchID(wire.Deref(r.Params.OtherBench))
		report, err = quicker.CompareBenches(state, car.ID, first, second, traits.of)
	}
	if err := errors.Join(err, traits.failed); err != nil {
		return nil, err
	}
	return gen.GetBeside200JSONResponse(view.Compared(state, report)), nil
}

// traitsRead reads the traits of runs for a comparison, which asks for them one by one.
type traitsRead struct {
	read   func(club.Practice) (quicker.Traits, error)
	failed error
}

func (s comparedCars) reading(ctx context.Context, state *club.State) *traitsRead {
	return &traitsRead{read: func(p club.Practice) (quicker.Traits, error) { return s.traitsOf(ctx, state, p) }}
}

// of is what a run shows; why it could not be read stands in failed.
func (t *traitsRead) of(p club.Practice) quicker.Traits {
	out, err := t.read(p)
	t.failed = errors.Join(t.failed, err)
	return out
}

// traitsOf reads what the stamps of a run tell, or remembers it.
func (s comparedCars) traitsOf(ctx context.Context, state *club.State, p club.Practice) (quicker.Traits, error) {
	key := traitsKey{s.club(ctx), p.ID}
	s.traits.mu.Lock()
	known, there := s.traits.kept[key]
	s.traits.mu.Unlock()
	if there {
		return known, nil
	}
	again, err := s.curve(ctx, state, p)
	if err != nil {
		return quicker.Traits{}, err
	}
	if again != nil {
		known = view.Traits(*again)
	}
	s.traits.mu.Lock()
	defer s.traits.mu.Unlock()
	if len(s.traits.kept) >= mostTraits {
		clear(s.traits.kept)
	}
	s.traits.kept[key] = known
	return known, nil
}

// longPractice is how many turns of the roller a run has whose speed over time nobody
// reads in passing: an endurance run of an hour.
const longPractice = 200_000

// curve measures a practice run again; nil where it has no stamps here, or is too long.
func (s comparedCars) curve(ctx context.Context, state *club.State, p club.Practice) (*evidence.Curve, error) {
	if p.Figures.TurnsE6/1_000_000 > longPractice {
		return nil, nil
	}
	found, err := s.intake.Practised(ctx, s.club(ctx), state, p)
	if errors.Is(err, intake.ErrNoStamps) {
		return nil, nil
	}
	if err != nil {
		return nil, err
	}
	c, err := found.Curve()
	if err != nil {
		return nil, nil //nolint:nilerr // it has no speed over time, and its figures stand
	}
	return &c, nil
}

// GetPracticeCurve shows a practice run with its speed over time.
func (s comparedCars) GetPracticeCurve(ctx context.Context, r gen.GetPracticeCurveRequestObject) (gen.GetPracticeCurveResponseObject, error) {
	state, err := s.clubState(ctx)
	if err != nil {
		return nil, err
	}
	run, there := state.PracticeRun(day.RunID(r.Run))
	if !there {
		return nil, refusal.New("no-practice-run", "run", day.RunID(r.Run))
	}
	again, err := s.curve(ctx, state, run)
	if err != nil {
		return nil, err
	}
	return gen.GetPracticeCurve200JSONResponse(view.PracticeCurve(state, run, again)), nil
}

// What a run repeats by and a fitting scatters by where nothing is known of a car,
// relative (common practice).
const (
	usualRepeat = 0.003
	usualRefit  = 0.003
)

// PlanComparison announces a comparison.
func (s comparedCars) PlanComparison(ctx context.Context, r gen.PlanComparisonRequestObject) (gen.PlanComparisonResponseObject, error) {
	o := order{key: r.Params.IdempotencyKey}
	runs := tuning.RunsAFitting(wire.OrElse(r.Body.ChangeMinutes, 5))
	sd := math.Sqrt(usualRefit*usualRefit + usualRepeat*usualRepeat/float64(runs))
	fittings, can := tuning.Needed(wire.OrElse(r.Body.SmallestChange, 0.01), sd)
	if !can {
		o.refuse = refusal.New("compare-small", "most", tuning.MostFittings)
	}
	receipt, err := s.clubOrder(ctx, o, club.PlanComparison{
		Number: r.Number, From: r.Body.From, To: r.Body.To, Fittings: fittings, RunsAFitting: runs,
	})
	return gen.PlanComparison200JSONResponse{ReceiptJSONResponse: receipt}, err
}
