package intake

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"

	"benchmeet/api/store"
	"benchmeet/domain/club"
	"benchmeet/domain/day"
	"benchmeet/domain/evidence"
	"benchmeet/domain/measure"
	"benchmeet/domain/meet"
	"benchmeet/domain/trace"
)

// ErrNoStamps says that the stamps of a run are not here: it was counted by hand,
// or its chunks are missing.
var ErrNoStamps = errors.New("the stamps of the run are not here")

// Train finds the stamps of a recorded run. Disagree says that its totals do not
// agree with its chunks. Stamps with another SHA-256 than the log has are not
// those of the run: ErrNoStamps.
func (in *Intake) Train(ctx context.Context, clubID string, r day.Run) (train trace.Train, disagree bool, err error) {
	if r.Trace == "" {
		return train, false, ErrNoStamps
	}
	return in.train(ctx, clubID, r.Bench, r.Boot, r.Trace, evidence.NamesOf(r))
}

// Practised finds the stamps of a practice run and the conditions that hold for it now; it
// is ErrNoStamps where they are not here.
func (in *Intake) Practised(ctx context.Context, clubID string, s *club.State, r club.Practice) (Recording, error) {
	train, disagree, err := in.train(ctx, clubID, r.Bench, r.Boot, r.Trace, evidence.NamesInClub(r))
	if err != nil {
		return Recording{}, err
	}
	c := evidence.InClub(s, r.ID, r.Bench, s.Cars.At(r.Car).Number)
	c.RaceUS = r.RaceUS // its bench is armed for another run by now
	return Recording{train, disagree, c}, nil
}

// train finds the stamps that a bench sent under one of these names.
func (in *Intake) train(
	ctx context.Context, clubID string, bench day.BenchID, boot, trace256 string, names []day.RunID,
) (train trace.Train, disagree bool, err error) {
	hash, err := hashOf(trace256)
	if err != nil {
		return train, false, err
	}
	for _, name := range names {
		chunks, err := in.traces.Chunks(ctx, clubID, store.RunKey{Bench: string(bench), Boot: boot, Run: string(name)})
		if err != nil {
			return train, false, err
		}
		train, _, err = trace.Recorded(chunks, hash)
		if disagree = errors.Is(err, trace.ErrDisagree); err == nil || disagree {
			return train, disagree, nil
		}
	}
	return trace.Train{}, false, ErrNoStamps
}

// hashOf reads the SHA-256 of a trace as it stands in an event.
func hashOf(text string) (hash [sha256.Size]byte, err error) {
	bytes, err := hex.DecodeString(text)
	if err != nil || len(bytes) != len(hash) {
		return hash, fmt.Errorf("%w: its event has no SHA-256 of them, but %q", ErrNoStamps, text)
	}
	copy(hash[:], bytes)
	return hash, nil
}

// ErrNoBench says that a meet does not know the bench of a run.
var ErrNoBench = errors.New("the meet does not know the bench of the run")

// Recording is what a recorded run was made of, and how it would be measured now.
type Recording struct {
	Train      trace.Train
	Disagree   bool // its totals do not agree with its chunks
	Conditions evidence.Conditions
}

// Measure computes the run's figures anew.
func (r Recording) Measure() (measure.Figures, error) {
	return r.Conditions.Measure(r.Train, r.Disagree)
}

// Curve reads the run's speed over time off its stamps.
func (r Recording) Curve() (evidence.Curve, error) { return r.Conditions.Curve(r.Train, r.Disagree) }

// Recorded finds the stamps of a recorded run of a meet and the conditions that
// hold for it now: by the name under which it was sent, for that is what a lane
// armed. It is ErrNoStamps where the stamps are not here, and ErrNoBench where the meet
// does not know the bench.
func (in *Intake) Recorded(ctx context.Context, clubID string, s *day.State, r day.Run) (Recording, error) {
	train, disagree, err := in.Train(ctx, clubID, r)
	if err != nil {
		return Recording{}, err
	}
	c, known := evidence.InMeet(s, day.RunID(train.Run), r.Bench)
	if !known {
		return Recording{}, ErrNoBench
	}
	return Recording{train, disagree, c}, nil
}

// Again measures the runs of a bench that a meet knows again, under the settings
// that the meet has for it now. Runs without stamps here, or that nothing can be
// measured of, are left out. It costs a pass over all stamps of the bench's runs.
func (in *Intake) Again(ctx context.Context, clubID string, s *day.State, bench day.BenchID) ([]meet.Remeasured, error) {
	var out []meet.Remeasured
	for _, r := range s.SortedRuns() {
		if r.Bench != bench || r.Source != day.SourceBench {
			continue
		}
		found, err := in.Recorded(ctx, clubID, s, r)
		if errors.Is(err, ErrNoStamps) {
			continue
		}
		if err != nil {
			return nil, err
		}
		figures, err := found.Measure()
		if err != nil {
			continue
		}
		out = append(out, meet.Remeasured{Run: r.ID, Trace: r.Trace, Figures: figures})
	}
	return out, nil
}
