package intake

import (
	"context"
	"errors"

	"benchmeet/api/ledger"
	"benchmeet/api/store"
	"benchmeet/domain/day"
	"benchmeet/domain/programme"
)

// race finds the meet that a run under way races in, and its state; "" where it races
// in none. Of two that armed a run of that name, the later call counts. A box has
// asked for its order before it sends, so the meets that are on are known here and
// none is looked for in the store; only a run that none of them armed may be of one
// that nobody here has asked for yet.
func (in *Intake) race(ctx context.Context, clubID string, run day.RunID, bench day.BenchID) (string, *day.State, error) {
	if !run.OfLane() {
		return "", nil, nil // practice
	}
	var found racing
	for _, s := range in.knownToBeOn(clubID) {
		snapshot, err := in.meets.At(ctx, s, 0)
		if errors.Is(err, ledger.ErrDamaged) {
			continue
		}
		if err != nil {
			return "", nil, err
		}
		found.look(s, snapshot.State, run, bench)
	}
	if found.state != nil {
		return found.meet, found.state, nil
	}
	streams, err := in.meets.Streams(ctx, clubID)
	if err != nil {
		return "", nil, err
	}
	for _, s := range streams {
		if _, isMeet := s.Stream.Meet(); !isMeet {
			continue
		}
		snapshot, on, err := in.on(ctx, s, in.known(s.Stream))
		if err != nil {
			return "", nil, err
		}
		if on {
			found.look(s.Stream, snapshot.State, run, bench)
		}
	}
	return found.meet, found.state, nil
}

// knownToBeOn are the meets of a club that benches asked for and that are not over.
func (in *Intake) knownToBeOn(clubID string) []store.Stream {
	in.mu.Lock()
	defer in.mu.Unlock()
	var out []store.Stream
	for s, known := range in.answers {
		if s.Club == clubID && !known.quiet {
			out = append(out, s)
		}
	}
	return out
}

// racing is the meet, of those looked at, that called the heat of a run last.
type racing struct {
	meet     string
	state    *day.State
	calledUS int64
}

func (r *racing) look(stream store.Stream, s *day.State, run day.RunID, bench day.BenchID) {
	h, l, armed := run.Race(s)
	if armed && l.Armed == run && l.Bench == bench && l.State != day.LaneDone && h.CalledUS > r.calledUS {
		r.meet, _ = stream.Meet()
		r.state, r.calledUS = s, h.CalledUS
	}
}

// OnMeet is a meet that may be on.
type OnMeet struct {
	ID    string
	State *day.State
}

// MeetsOn are the meets of a club that may be on: not put away, not over, and not of long
// ago. A meet whose log is damaged is none of them.
func (in *Intake) MeetsOn(ctx context.Context, clubID string) ([]OnMeet, error) {
	streams, err := in.meets.Streams(ctx, clubID)
	if err != nil {
		return nil, err
	}
	var out []OnMeet
	for _, s := range streams {
		id, isMeet := s.Stream.Meet()
		if !isMeet {
			continue
		}
		snapshot, on, err := in.on(ctx, s, in.known(s.Stream))
		if err != nil {
			return nil, err
		}
		if on && snapshot.State.Planned && !snapshot.State.Away.Meet && !programme.Over(snapshot.State) {
			out = append(out, OnMeet{id, snapshot.State})
		}
	}
	return out, nil
}
