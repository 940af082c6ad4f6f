package intake

import (
	"context"
	"errors"
	"time"

	"benchmeet/api/ledger"
	"benchmeet/api/store"
	"benchmeet/domain/board"
	"benchmeet/domain/day"
	"benchmeet/domain/journal"
	"benchmeet/domain/programme"
)

// Assignment is what a bench has to do now and for which meet.
type Assignment struct {
	Meet  string // empty: no heat needs the bench
	Order board.Assignment
	State *day.State // of that meet
	// OutOfService is set where some meet took the bench out.
	OutOfService bool
}

// longAgo is how old the newest event of a meet is that is not on today. Such a
// meet is not even read: a season of race days must not slow one of them down,
// and a day that was left unfinished must not hold a bench for ever.
const longAgo = 3 * 24 * time.Hour

// Order finds what a bench has to do now among the meets of the club that are on.
// Of two that need the bench, the later call counts. Boxes ask several times a
// second: while a meet stands still, what it answers each bench is remembered,
// and nothing is read from the store. A meet whose log is damaged needs no bench.
func (in *Intake) Assignment(ctx context.Context, clubID string, bench day.BenchID) (Assignment, error) {
	streams, err := in.meets.Streams(ctx, clubID)
	if err != nil {
		return Assignment{}, err
	}
	free := Assignment{Order: board.Assignment{Bench: bench}}
	var newest store.Stream
	newestUS := int64(0)
	for _, s := range streams {
		if _, isMeet := s.Stream.Meet(); !isMeet {
			continue
		}
		says, err := in.answer(ctx, s, bench)
		if err != nil {
			return Assignment{}, err
		}
		if says.calledUS > newestUS {
			newest, newestUS = s.Stream, says.calledUS
		}
		free.OutOfService = free.OutOfService || says.out
	}
	if newestUS == 0 {
		return free, nil
	}
	snapshot, err := in.meets.At(ctx, newest, 0)
	if err != nil {
		return Assignment{}, err
	}
	order, err := board.AssignmentOf(snapshot.State, bench)
	if err != nil || order.Heat == "" {
		return free, nil //nolint:nilerr // a bench that the meet does not have is free, and so is one that raced meanwhile
	}
	id, _ := newest.Meet()
	return Assignment{Meet: id, Order: order, State: snapshot.State, OutOfService: order.OutOfService}, nil
}

// remembered is what a meet answers its benches at a position of its log.
type remembered struct {
	seq     int64
	quiet   bool // it needs no bench: over, long ago, or not to be read
	benches map[day.BenchID]answer
}

// answer is what one meet says to one bench.
type answer struct {
	calledUS int64 // when the heat was called that needs it; 0 is none
	out      bool  // out of service
}

// mostBenches bounds what is remembered of a meet.
const mostBenches = 256

func (in *Intake) answer(ctx context.Context, s store.StreamHead, bench day.BenchID) (answer, error) {
	known := in.known(s.Stream)
	if a, there := known.benches[bench]; known.seq == s.Head.Seq && (there || known.quiet) {
		return a, nil
	}
	snapshot, on, err := in.on(ctx, s, known)
	if err != nil || !on {
		return answer{}, err
	}
	a := answer{}
	order, err := board.AssignmentOf(snapshot.State, bench)
	if err == nil && order.Heat != "" {
		a.calledUS = snapshot.State.Heats[order.Heat].CalledUS
	}
	over := a.calledUS == 0 && (snapshot.State.Away.Meet || programme.Over(snapshot.State))
	a.out = err == nil && order.OutOfService && a.calledUS == 0 && !over // else the meet does not have this bench
	in.remember(s.Stream, snapshot.Head.Seq, over, bench, a)
	return a, nil
}

func (in *Intake) known(s store.Stream) remembered {
	in.mu.Lock()
	defer in.mu.Unlock()
	return in.answers[s]
}

// on is a meet that may be on; false for one that needs no bench.
func (in *Intake) on(ctx context.Context, s store.StreamHead, known remembered) (ledger.Snapshot[day.State], bool, error) {
	var none ledger.Snapshot[day.State]
	if known.seq != s.Head.Seq {
		fresh, err := in.recent(ctx, s)
		if err != nil {
			return none, false, err
		}
		if !fresh {
			in.remember(s.Stream, s.Head.Seq, true, "", answer{})
			return none, false, nil
		}
	} else if known.quiet {
		return none, false, nil
	}
	snapshot, err := in.meets.At(ctx, s.Stream, 0)
	if errors.Is(err, ledger.ErrDamaged) { // the ledger has said so in its log
		in.remember(s.Stream, s.Head.Seq, true, "", answer{})
		return none, false, nil
	}
	return snapshot, err == nil, err
}

// recent says whether a meet's newest event is so young that it may be on.
func (in *Intake) recent(ctx context.Context, s store.StreamHead) (bool, error) {
	fresh := true
	err := in.logs.Read(ctx, s.Stream, s.Head.Seq-1, func(r journal.Record) error {
		envelope, err := r.Open()
		fresh = err == nil && time.UnixMicro(envelope.Time).After(in.now().Add(-longAgo))
		return nil // what cannot be read is damage, and needs no bench
	})
	return fresh, err
}

func (in *Intake) remember(s store.Stream, seq int64, quiet bool, bench day.BenchID, a answer) {
	in.mu.Lock()
	defer in.mu.Unlock()
	known := in.answers[s]
	if known.seq != seq || known.benches == nil || len(known.benches) >= mostBenches {
		known = remembered{seq: seq, benches: map[day.BenchID]answer{}}
	}
	// Readers may hold the old table, so it is never changed.
	benches := make(map[day.BenchID]answer, len(known.benches)+1)
	for b, old := range known.benches {
		benches[b] = old
	}
	benches[bench] = a
	known.benches, known.quiet = benches, known.quiet || quiet
	in.answers[s] = known
}
