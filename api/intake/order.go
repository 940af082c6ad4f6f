package intake

import (
	"context"

	"benchmeet/api/store"
	"benchmeet/domain/meet"
)

// BenchOrder is what a bench has to do now and for which meet.
type BenchOrder struct {
	Meet  string // empty: no heat needs the bench
	Order meet.BenchOrder
	State *meet.State // of that meet
	// OutOfService is set where some meet took the bench out.
	OutOfService bool
}

// Order finds what a bench has to do now among all meets of the club. Meets that
// are over are looked at once; of two that need the bench, the later call counts,
// for a day that was left unfinished must not hold a bench for ever.
func (in *Intake) Order(ctx context.Context, clubID string, bench meet.BenchID) (BenchOrder, error) {
	streams, err := in.logs.Streams(ctx, clubID)
	if err != nil {
		return BenchOrder{}, err
	}
	free := BenchOrder{Order: meet.BenchOrder{Bench: bench}}
	var newest BenchOrder
	newestUS := int64(0)
	for _, s := range streams {
		id, isMeet := s.Stream.Meet()
		if !isMeet || in.isOver(s) {
			continue
		}
		snapshot, err := in.meets.At(ctx, s.Stream, 0)
		if err != nil {
			return BenchOrder{}, err
		}
		order, err := snapshot.State.BenchOrder(bench)
		if err != nil {
			continue // the meet does not have this bench
		}
		if order.Heat != "" {
			if called := snapshot.State.Heats[order.Heat].CalledUS; called > newestUS {
				newest = BenchOrder{Meet: id, Order: order, State: snapshot.State, OutOfService: order.OutOfService}
				newestUS = called
			}
			continue
		}
		if snapshot.State.Over() {
			in.noteOver(s.Stream, snapshot.Head.Seq)
			continue
		}
		free.OutOfService = free.OutOfService || order.OutOfService
	}
	if newestUS > 0 {
		return newest, nil
	}
	return free, nil
}

func (in *Intake) isOver(s store.StreamHead) bool {
	in.mu.Lock()
	defer in.mu.Unlock()
	seq, seen := in.over[s.Stream]
	return seen && seq == s.Head.Seq
}

func (in *Intake) noteOver(s store.Stream, seq int64) {
	in.mu.Lock()
	defer in.mu.Unlock()
	in.over[s] = seq
}
