package rest

import (
	"context"
	"sync"

	"benchmeet/api/gen"
	"benchmeet/api/store"
	"benchmeet/api/view"
	"benchmeet/api/wire"
	"benchmeet/domain/club"
	"benchmeet/domain/comparison"
	"benchmeet/domain/day"
	"benchmeet/domain/meet"
	"benchmeet/domain/refusal"
)

// comparedBenches shows how benches compare, and corrects them.
type comparedBenches struct {
	orders
	compare comparing
}

// comparisons keeps the newest comparison of each meet: screens ask again and
// again, and it changes only with one of the two logs.
type comparisons struct {
	mu   sync.Mutex
	kept map[store.Stream]keptComparison
}

type keptComparison struct {
	meetSeq, clubSeq int64
	report           *comparison.Report
}

// of compares the benches of a meet, or returns what was compared before.
func (k *comparisons) of(stream store.Stream, id string, m *day.State, c *club.State) (*comparison.Report, error) {
	k.mu.Lock()
	defer k.mu.Unlock()
	if old, there := k.kept[stream]; there && old.meetSeq == m.Seq && old.clubSeq == c.Seq {
		return old.report, nil
	}
	report, err := comparison.Of(m, c, id)
	if err != nil {
		return nil, err
	}
	if k.kept == nil {
		k.kept = map[store.Stream]keptComparison{}
	}
	k.kept[stream] = keptComparison{m.Seq, c.Seq, report}
	return report, nil
}

// comparing compares the benches of meets.
type comparing struct {
	reads
	kept *comparisons
}

// benches compares the benches of a meet that was read.
func (s comparing) benches(ctx context.Context, v view.MeetView) (*club.State, *comparison.Report, error) {
	state, err := s.clubState(ctx)
	if err != nil {
		return nil, nil, err
	}
	report, err := s.kept.of(store.MeetStream(s.club(ctx), v.ID), v.ID, v.State, state)
	return state, report, err
}

// GetBenchComparison compares the benches of a meet.
func (s comparedBenches) GetBenchComparison(ctx context.Context, r gen.GetBenchComparisonRequestObject) (gen.GetBenchComparisonResponseObject, error) {
	v, err := s.meetView(ctx, r.Meet, nil)
	if err != nil {
		return nil, err
	}
	state, report, err := s.compare.benches(ctx, v)
	if err != nil {
		return nil, err
	}
	return gen.GetBenchComparison200JSONResponse(v.Comparison(state, report)), nil
}

// AdoptFactors adopts the factors of the comparison that the official looked at.
func (s comparedBenches) AdoptFactors(ctx context.Context, r gen.AdoptFactorsRequestObject) (gen.AdoptFactorsResponseObject, error) {
	v, err := s.meetNow(ctx, r.Meet)
	if err != nil {
		return nil, err
	}
	_, report, err := s.compare.benches(ctx, v)
	if err != nil {
		return nil, err
	}
	o := order{key: r.Params.IdempotencyKey}
	// What cannot be adopted is refused by the ledger below, which knows a retry of
	// an order that was carried out; only then is another offer another order.
	c := report.Adopting(r.Body.Offer, reason(&o, r.Body.Reason))
	receipt, err := s.meetOrder(ctx, r.Meet, o, c)
	return gen.AdoptFactors200JSONResponse{ReceiptJSONResponse: receipt}, err
}

// WithdrawFactors withdraws the factors in force.
func (s comparedBenches) WithdrawFactors(ctx context.Context, r gen.WithdrawFactorsRequestObject) (gen.WithdrawFactorsResponseObject, error) {
	o := order{key: r.Params.IdempotencyKey}
	receipt, err := s.meetOrder(ctx, r.Meet, o, meet.WithdrawFactors{Reason: reason(&o, r.Body.Reason)})
	return gen.WithdrawFactors200JSONResponse{ReceiptJSONResponse: receipt}, err
}

// BeginReferenceCheck begins a reference check of the benches of a meet.
func (s comparedBenches) BeginReferenceCheck(ctx context.Context, r gen.BeginReferenceCheckRequestObject) (gen.BeginReferenceCheckResponseObject, error) {
	v, err := s.meetNow(ctx, r.Meet)
	if err != nil {
		return nil, err
	}
	c := wire.ReadCheck(r.Meet, *r.Body)
	for _, bench := range c.Benches {
		if _, there := v.State.Benches[bench]; !there {
			return nil, refusal.New("no-bench", "bench", bench)
		}
	}
	if r.Body.Benches == nil {
		for _, b := range v.State.SortedBenches() {
			if !b.OutOfService {
				c.Benches = append(c.Benches, b.ID)
			}
		}
	}
	receipt, err := s.clubOrder(ctx, order{key: r.Params.IdempotencyKey}, c)
	return gen.BeginReferenceCheck200JSONResponse{ReceiptJSONResponse: receipt}, err
}

// DropReferenceRun takes a run out of its reference check.
func (s comparedBenches) DropReferenceRun(ctx context.Context, r gen.DropReferenceRunRequestObject) (gen.DropReferenceRunResponseObject, error) {
	receipt, err := s.clubOrder(ctx, order{key: r.Params.IdempotencyKey}, club.DropReference{Run: day.RunID(r.Run)})
	return gen.DropReferenceRun200JSONResponse{ReceiptJSONResponse: receipt}, err
}
