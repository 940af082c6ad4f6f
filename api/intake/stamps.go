package intake

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"

	"benchmeet/api/store"
	"benchmeet/domain/day"
	"benchmeet/domain/evidence"
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
	hash, err := hashOf(r.Trace)
	if err != nil {
		return train, false, err
	}
	for _, name := range evidence.NamesOf(r) {
		chunks, err := in.traces.Chunks(ctx, clubID, store.RunKey{Bench: string(r.Bench), Boot: r.Boot, Run: string(name)})
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

// Recorded finds the stamps of a recorded run of a meet and the conditions that
// hold for it now: by the name under which it was sent, for that is what a lane
// armed. Known is false where the meet does not know the bench. It is ErrNoStamps
// where the stamps are not here.
func (in *Intake) Recorded(ctx context.Context, clubID string, s *day.State, r day.Run) (train trace.Train, disagree bool, c evidence.Conditions, known bool, err error) {
	train, disagree, err = in.Train(ctx, clubID, r)
	if err != nil {
		return train, disagree, c, false, err
	}
	c, known = evidence.InMeet(s, day.RunID(train.Run), r.Bench)
	return train, disagree, c, known, nil
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
		train, disagree, conditions, known, err := in.Recorded(ctx, clubID, s, r)
		switch {
		case errors.Is(err, ErrNoStamps):
			continue
		case err != nil || !known:
			return nil, err
		}
		figures, err := conditions.Measure(train, disagree)
		if err != nil {
			continue
		}
		out = append(out, meet.Remeasured{Run: r.ID, Trace: r.Trace, Figures: figures})
	}
	return out, nil
}
