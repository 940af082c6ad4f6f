package intake

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"log/slog"
	"runtime/debug"
	"slices"
	"sync"
	"time"

	"benchmeet/api/ledger"
	"benchmeet/api/store"
	"benchmeet/domain/club"
	"benchmeet/domain/day"
	"benchmeet/domain/evidence"
	"benchmeet/domain/measure"
	"benchmeet/domain/meet"
	"benchmeet/domain/trace"
)

// Intake takes chunks in. Its methods may be called from many goroutines.
type Intake struct {
	traces store.Traces
	logs   store.Logs
	meets  *ledger.OfMeets
	clubs  *ledger.OfClubs
	log    *slog.Logger
	speeds *speeds
	now    func() time.Time

	mu sync.Mutex
	// ended are runs whose last chunk this process has seen and that are not
	// recorded yet: a late chunk may complete them.
	ended map[place]struct{}
	// answers caches what each meet answers its benches.
	answers map[store.Stream]remembered
	// patience says of runs that were not complete when Sweep looked when to look
	// again.
	patience map[place]patience
}

// patience is how long Sweep leaves a run alone: twice as long each time, so that a
// chunk which comes late is met after a time as long as it was waited for, and a
// run that lacks one for good costs next to nothing.
type patience struct {
	wait  time.Duration
	next  time.Time
	since time.Time // when it was found to lack a chunk
}

// The shortest and the longest wait between two looks at an incomplete run.
const (
	firstWait = 5 * time.Second
	longWait  = time.Hour
)

// place is a run's key within its club.
type place struct {
	club string
	run  store.RunKey
}

// Options are what an intake needs.
type Options struct {
	Store store.Store
	Meets *ledger.OfMeets
	Clubs *ledger.OfClubs
	Log   *slog.Logger
	// Speed is called with telemetry; it must not block. Nil drops it.
	Speed func(Speed)
	// Now is the server's clock; nil is time.Now.
	Now func() time.Time
}

// New makes an intake.
func New(o Options) *Intake {
	if o.Log == nil {
		o.Log = slog.New(slog.DiscardHandler)
	}
	if o.Now == nil {
		o.Now = time.Now
	}
	return &Intake{
		traces: o.Store, logs: o.Store, meets: o.Meets, clubs: o.Clubs, log: o.Log,
		speeds: newSpeeds(o.Speed), now: o.Now, ended: map[place]struct{}{}, answers: map[store.Stream]remembered{},
		patience: map[place]patience{},
	}
}

// Kept says what became of a chunk.
type Kept struct {
	Fresh    bool // false where the same chunk was there already
	Recorded bool // the run is complete and stands in a log
}

// Take keeps a chunk and, where it completes its run, records the run. When it
// returns without an error the chunk is on disk. store.ErrConflict means that
// another content is kept under the chunk's key. Whatever goes wrong after the
// chunk was kept is left to Sweep.
func (in *Intake) Take(ctx context.Context, clubID, actor string, c trace.Chunk) (Kept, error) {
	fresh, err := in.traces.PutChunk(ctx, clubID, c.Pack())
	if err != nil {
		return Kept{}, err
	}
	at := place{clubID, store.RunKey{Bench: c.Key.Bench, Boot: c.Key.Boot, Run: c.Key.Run}}
	if fresh {
		in.awaited(at)
		in.telemetry(ctx, at, c)
	}
	if !in.hasEnded(at, c.Last != nil) {
		return Kept{Fresh: fresh}, nil
	}
	recorded, err := in.record(ctx, at, actor)
	if err != nil {
		in.log.Warn("a run is kept and not recorded yet; trying again soon", "run", c.Key.Run, "bench", c.Key.Bench, "error", err)
		return Kept{Fresh: fresh}, nil
	}
	return Kept{Fresh: fresh, Recorded: recorded}, nil
}

func (in *Intake) hasEnded(at place, last bool) bool {
	in.mu.Lock()
	defer in.mu.Unlock()
	if last {
		in.ended[at] = struct{}{}
	}
	_, ended := in.ended[at]
	return ended
}

// Sweep records the runs of a club that are complete and not recorded: after a
// crash, or where their chunks came through several servers. Its error holds those
// of all runs that could not be recorded.
func (in *Intake) Sweep(ctx context.Context, clubID string) error {
	open, err := in.traces.OpenRuns(ctx, clubID)
	if err != nil {
		return err
	}
	in.only(clubID, open)
	var failed []error
	for _, run := range open {
		at := place{clubID, run}
		if !in.due(at) {
			continue
		}
		recorded, err := in.record(ctx, at, "server")
		in.looked(at, recorded || err != nil)
		if err != nil {
			// The others must not wait for it.
			failed = append(failed, fmt.Errorf("run %s of bench %s: %w", run.Run, run.Bench, err))
		}
	}
	return errors.Join(failed...)
}

// Lacking is a run whose end has come and that lacks chunks.
type Lacking struct {
	store.RunKey
	Since time.Time // when that was found
}

// Incomplete lists the runs of a club that lack chunks: they are recorded as soon as
// those come, which for some will be never.
func (in *Intake) Incomplete(clubID string) (out []Lacking) {
	in.mu.Lock()
	defer in.mu.Unlock()
	for at, p := range in.patience {
		if at.club == clubID {
			out = append(out, Lacking{at.run, p.since})
		}
	}
	return out
}

// only forgets what was waited for and is open no more: another server has recorded it.
func (in *Intake) only(clubID string, open []store.RunKey) {
	in.mu.Lock()
	defer in.mu.Unlock()
	for at := range in.patience {
		if at.club == clubID && !slices.Contains(open, at.run) {
			delete(in.patience, at)
		}
	}
}

// due says whether Sweep has to look at a run now.
func (in *Intake) due(at place) bool {
	in.mu.Lock()
	defer in.mu.Unlock()
	return !in.now().Before(in.patience[at].next)
}

// awaited has Sweep look at a run the next time: it may lack nothing any more.
func (in *Intake) awaited(at place) {
	in.mu.Lock()
	defer in.mu.Unlock()
	delete(in.patience, at)
}

// looked notes whether a run is through, or failed in a way that may pass, or lacks
// chunks still.
func (in *Intake) looked(at place, through bool) {
	in.mu.Lock()
	defer in.mu.Unlock()
	if through {
		delete(in.patience, at)
		return
	}
	wait := min(max(firstWait, 2*in.patience[at].wait), longWait)
	now, since := in.now(), in.patience[at].since
	if since.IsZero() {
		since = now
	}
	in.patience[at] = patience{wait, now.Add(wait), since}
}

// record measures a run and puts it into the log, if all its chunks are there. What it
// is made of is fixed first: from then on it is the same for every server and after
// every crash, whatever else comes under its key. A fault of the program that a run
// meets fails that run and no other.
func (in *Intake) record(ctx context.Context, at place, actor string) (recorded bool, err error) {
	defer func() {
		if what := recover(); what != nil {
			recorded, err = false, fmt.Errorf("the run met a fault of the program: %v\n%s", what, debug.Stack())
		}
	}()
	chunks, err := in.traces.Chunks(ctx, at.club, at.run)
	if err != nil {
		return false, err
	}
	_, n, err := trace.Whole(chunks)
	switch {
	case errors.Is(err, trace.ErrIncomplete):
		return false, nil
	case err != nil && !errors.Is(err, trace.ErrDisagree):
		return false, err
	}
	// The number of chunks as seen here is only proposed: another server may have been first. So
	// they are read again, and what is measured is what was fixed.
	if err := in.traces.FreezeRun(ctx, at.club, at.run, n); err != nil {
		return false, err
	}
	if chunks, err = in.traces.Chunks(ctx, at.club, at.run); err != nil {
		return false, err
	}
	train, _, err := trace.Whole(chunks)
	disagree := errors.Is(err, trace.ErrDisagree)
	if err != nil && !disagree {
		return false, err
	}
	if err := in.enter(ctx, at, actor, train, disagree); err != nil {
		return false, err
	}
	in.mu.Lock()
	delete(in.ended, at)
	in.mu.Unlock()
	in.speeds.end(at)
	// Last, because it says that the run stands in a log: where a server stops before, OpenRuns
	// finds it again.
	return true, in.traces.CloseRun(ctx, at.club, at.run)
}

// enter measures a train and gives the order that records it.
func (in *Intake) enter(ctx context.Context, at place, actor string, train trace.Train, disagree bool) error {
	sum := train.Hash()
	hash := hex.EncodeToString(sum[:])
	bench, run := day.BenchID(train.Bench), day.RunID(train.Run)
	if train.Totals.Meet != "" {
		stream := store.MeetStream(at.club, train.Totals.Meet)
		// The heat may have been called, and the bench set, at a server that this one is behind.
		snapshot, err := in.meets.Newest(ctx, stream)
		if err != nil {
			return err
		}
		// A box may name a meet that was never planned here. Its run is kept with the club's practice
		// runs, under the name that it gave, so that nothing that was run is lost.
		if snapshot.State.Planned {
			figures, err := in.measure(ctx, at.club, snapshot.State, train, disagree)
			if err != nil {
				return err
			}
			// The id is the run's own, the same from every server and after every crash: a second try is
			// answered and not recorded again.
			_, err = in.meets.Do(ctx, stream, ledger.Order[meet.Command]{
				ID: orderID(at, "meet"), Content: sum[:], Actor: actor,
				Command: meet.RecordRun{ID: run, Bench: bench, Boot: train.Boot, Trace: hash, Figures: figures},
			})
			return err
		}
	}
	figures, err := in.measure(ctx, at.club, nil, train, disagree)
	if err != nil {
		return err
	}
	_, err = in.clubs.Do(ctx, store.ClubStream(at.club), ledger.Order[club.Command]{
		ID: orderID(at, "club"), Content: sum[:], Actor: actor,
		Command: club.RecordPractice{
			ID: run, Bench: bench, Number: evidence.CarNumber(train.Totals), Boot: train.Boot, Trace: hash,
			Meet: train.Totals.Meet, Figures: figures,
		},
	})
	return err
}

// orderID is the id of the order that records a run: the same from every server
// and after every crash.
func orderID(at place, where string) string {
	sum := sha256.Sum256([]byte(fmt.Sprintf("%q %q %q %q %q", where, at.club, at.run.Bench, at.run.Boot, at.run.Run)))
	return "run-" + hex.EncodeToString(sum[:16])
}

// measure computes a run's figures under the conditions that hold for it.
func (in *Intake) measure(ctx context.Context, clubID string, s *day.State, train trace.Train, disagree bool) (measure.Figures, error) {
	run, bench := day.RunID(train.Run), day.BenchID(train.Bench)
	conditions, known := inMeet(s, run, bench)
	if !known {
		snapshot, err := in.clubs.Newest(ctx, store.ClubStream(clubID))
		if err != nil {
			return measure.Figures{}, err
		}
		conditions = evidence.InClub(snapshot.State, run, bench, evidence.CarNumber(train.Totals))
	}
	return conditions.Measure(train, disagree)
}

// inMeet finds the conditions of a run in a meet, if it is one of any; false where the club has
// them.
func inMeet(s *day.State, run day.RunID, bench day.BenchID) (evidence.Conditions, bool) {
	if s == nil {
		return evidence.Conditions{}, false
	}
	return evidence.InMeet(s, run, bench)
}
