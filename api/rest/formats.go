package rest

import (
	"context"
	"sync"
	"time"

	"benchmeet/api/gen"
	"benchmeet/api/view"
	"benchmeet/api/wire"
	"benchmeet/domain/forecast"
)

// formatChoices compares what other programmes would give a day.
type formatChoices struct {
	reads
	now  func() time.Time
	kept *comparedFormats
}

// comparedFormats keeps the newest comparison of a few meets, and lets one be made at a
// time: each takes a core for some seconds.
type comparedFormats struct {
	turn chan struct{}
	mu   sync.Mutex
	kept map[formatKey]gen.FormatComparison
}

type formatKey struct {
	club, meet string
	seq        int64
	benches    int
	adults     int
}

func newComparedFormats() *comparedFormats {
	return &comparedFormats{turn: make(chan struct{}, 1), kept: map[formatKey]gen.FormatComparison{}}
}

const (
	// compareWithin bounds how long forms are played beyond the least.
	compareWithin = 4 * time.Second
	// mostLike is how many earlier meets are read for how cars scatter.
	mostLike = 3
)

// CompareFormats plays the day in other forms.
func (s formatChoices) CompareFormats(ctx context.Context, r gen.CompareFormatsRequestObject) (gen.CompareFormatsResponseObject, error) {
	v, err := s.meetView(ctx, r.Meet, nil)
	if err != nil {
		return nil, err
	}
	key := formatKey{s.club(ctx), r.Meet, v.Head.Seq, wire.Deref(r.Params.Benches), wire.Deref(r.Params.Adults)}
	// What is kept waits for nobody's turn.
	if out, there := s.kept.get(key); there {
		return gen.CompareFormats200JSONResponse(out), nil
	}
	// Who waits for a turn and goes away leaves the queue.
	select {
	case s.kept.turn <- struct{}{}:
		defer func() { <-s.kept.turn }()
	case <-ctx.Done():
		return nil, ctx.Err()
	}
	// Who had the turn before may have asked for the same.
	if out, there := s.kept.get(key); there {
		return gen.CompareFormats200JSONResponse(out), nil
	}
	runs, err := s.shown(ctx, v)
	if err != nil {
		return nil, err
	}
	d := view.NewFormatDay(v, max(s.now().UnixMicro(), v.State.TimeUS), key.benches, key.adults, runs)
	playing, cancel := context.WithTimeout(ctx, compareWithin)
	defer cancel()
	out, err := view.Formats(d, func() bool { return playing.Err() != nil })
	if err == nil {
		err = ctx.Err()
	}
	if err != nil {
		return nil, err
	}
	s.kept.put(key, out)
	return gen.CompareFormats200JSONResponse(out), nil
}

// shown are the runs of the meet, and of a few other meets of the club where too few cars
// have run in it. A meet that cannot be read is passed over: it is only asked for a habit.
func (s formatChoices) shown(ctx context.Context, v view.MeetView) ([]forecast.Shown, error) {
	runs := view.ShownRuns(v.ID, v.State)
	if _, enough := forecast.SpreadOf(runs); enough {
		return runs, nil
	}
	streams, err := s.meets.Streams(ctx, s.club(ctx))
	if err != nil {
		return nil, err
	}
	read := 0
	for _, head := range streams {
		id, isMeet := head.Stream.Meet()
		if !isMeet || id == v.ID || read == mostLike {
			continue
		}
		other, err := s.meetView(ctx, id, nil)
		if err != nil {
			continue
		}
		if more := view.ShownRuns(id, other.State); len(more) > 0 {
			runs = append(runs, more...)
			read++
		}
	}
	return runs, nil
}

func (k *comparedFormats) get(key formatKey) (gen.FormatComparison, bool) {
	k.mu.Lock()
	defer k.mu.Unlock()
	out, there := k.kept[key]
	return out, there
}

func (k *comparedFormats) put(key formatKey, out gen.FormatComparison) {
	k.mu.Lock()
	defer k.mu.Unlock()
	if len(k.kept) >= mostKept {
		clear(k.kept)
	}
	k.kept[key] = out
}
