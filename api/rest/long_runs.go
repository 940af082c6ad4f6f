package rest

import (
	"context"
	"encoding/json"
	"errors"
	"net/http"
	"strconv"
	"strings"
	"time"

	"golang.org/x/sync/semaphore"

	"benchmeet/api/gen"
	"benchmeet/api/view"
	"benchmeet/api/wire"
	"benchmeet/domain/day"
	"benchmeet/domain/refusal"
	"benchmeet/domain/trace"
)

const (
	// longRun is how many stamps a run has whose stamps take turns in memory: those of
	// an endurance race are tens of megabytes, and anybody may ask for them.
	longRun = 200_000
	// mostStamps is how many of such runs may be held at a time: the longest run that
	// the contract allows at a quick roller's speed, and a shorter one.
	mostStamps = 6_000_000
	// A reader of a long trace may take this long, and a second more for each hundred
	// kilobytes: meanwhile others wait for the memory.
	traceWithin = 30 * time.Second
	traceRate   = 100 << 10 // bytes a second
)

// longRuns are the turns of runs with many stamps.
type longRuns struct{ stamps *semaphore.Weighted }

func newLongRuns() longRuns { return longRuns{semaphore.NewWeighted(mostStamps)} }

// turn waits until the stamps of runs may be held; the function gives the turn back.
// Where that takes too long the answer is to come again.
func (l longRuns) turn(ctx context.Context, v view.MeetView, runs ...day.Run) (done func(), err error) {
	var many int64
	for _, r := range runs {
		if n := r.Figures.TurnsE6 / 1_000_000 * int64(max(1, v.State.Benches[r.Bench].Marks)); n > longRun {
			many += n
		}
	}
	if many == 0 {
		return func() {}, nil
	}
	many = min(many, mostStamps)
	waiting, stop := context.WithTimeout(ctx, turnWithin)
	defer stop()
	if l.stamps.Acquire(waiting, many) != nil {
		if ctx.Err() != nil {
			return nil, ctx.Err()
		}
		return nil, refusal.New("busy")
	}
	return func() { l.stamps.Release(many) }, nil
}

// sentTrace is an answer with a trace that is written part by part: as one text it would
// be several times as large as its stamps.
type sentTrace struct {
	train trace.Train
	done  func()
}

// errSlowTrace cuts an answer whose reader is too slow for what others need.
var errSlowTrace = errors.New("a long trace was read too slowly")

// VisitGetTraceResponse writes the trace.
func (s sentTrace) VisitGetTraceResponse(w http.ResponseWriter) error {
	defer s.done()
	stamps := s.train.Stamps
	whole := wire.ShowTrace(s.train)
	whole.StampsUs = []int64{}
	frame, err := json.Marshal(whole)
	if err != nil {
		return err
	}
	const empty = `"stamps_us":[`
	before, after, found := strings.Cut(string(frame), empty)
	if !found {
		return errors.New("a trace without its stamps")
	}
	w.Header().Set("Content-Type", "application/json")
	w.WriteHeader(http.StatusOK)
	began, sent := time.Now(), 0
	part := append(make([]byte, 0, 40<<10), before+empty...)
	for i, at := range stamps {
		if i > 0 {
			part = append(part, ',')
		}
		part = strconv.AppendInt(part, at, 10)
		if len(part) < 32<<10 {
			continue
		}
		if _, err := w.Write(part); err != nil {
			return err
		}
		sent += len(part)
		part = part[:0]
		if time.Since(began) > traceWithin+time.Duration(sent/traceRate)*time.Second {
			return errSlowTrace
		}
	}
	_, err = w.Write(append(part, after...))
	return err
}

var _ gen.GetTraceResponseObject = sentTrace{}
