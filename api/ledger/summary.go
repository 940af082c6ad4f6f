package ledger

import (
	"context"
	"encoding/json"
	"errors"

	"benchmeet/api/store"
	"benchmeet/domain/journal"
)

// Summary is what lists and sweeps ask of every stream of a club, so that none has
// to be folded for it.
type Summary struct {
	Seq               int64 // the place in the log that it was made at
	Name, Place, Date string
	// Published is the number of the newest publication of each division that has
	// one.
	Published map[string]int
	// PutAway says that the meet is put away: a list shows it to organisers alone.
	PutAway bool `json:",omitempty"`
}

// summed is a summary as it is kept.
type summed struct {
	Version string
	Stream  string
	Hash    string // of the record that it was made at
	Summary string // as JSON
}

const (
	summaryName    = "summary"
	summaryVersion = "2" // of Summary, and of how models make it
)

// Summary says what a stream comes to at its head, as Streams lists it, or further
// on. It is remembered, and kept between two starts, so a stream is folded for it
// once after it has changed and not at each start. A log that cannot be folded is
// ErrDamaged, unless its summary was made when it could.
func (l *Ledger[S, C, E]) Summary(ctx context.Context, at store.StreamHead) (Summary, error) {
	l.mu.Lock()
	known, there := l.summaries[at.Stream]
	loaded := l.streams[at.Stream]
	l.mu.Unlock()
	if there && known.Seq >= at.Head.Seq {
		return known, nil
	}
	if loaded != nil {
		if now := loaded.snapshot(); now.State != nil && now.Head.Seq >= at.Head.Seq {
			return l.summarise(at.Stream, now), nil
		}
	}
	if s, err := l.keptSummary(ctx, at); err == nil {
		l.remember(at.Stream, s)
		return s, nil
	}
	now, err := l.At(ctx, at.Stream, at.Head.Seq)
	if err != nil {
		return Summary{}, err
	}
	s := l.summarise(at.Stream, now)
	if err := l.keepSummary(ctx, at.Stream, now.Head, s); err != nil && ctx.Err() == nil {
		l.log.Warn("a summary is not kept; the next start takes longer", "stream", at.Stream.String(), "error", err)
	}
	return s, nil
}

// summarise makes a summary and remembers it.
func (l *Ledger[S, C, E]) summarise(name store.Stream, now Snapshot[S]) Summary {
	s := l.model.Summarise(now.State)
	s.Seq = now.Head.Seq
	l.remember(name, s)
	return s
}

func (l *Ledger[S, C, E]) remember(name store.Stream, s Summary) {
	l.mu.Lock()
	defer l.mu.Unlock()
	if s.Seq > l.summaries[name].Seq {
		l.summaries[name] = s
	}
}

var errNotKept = errors.New("nothing is kept for this place")

// keptSummary is the summary of exactly this place, if it is kept.
func (l *Ledger[S, C, E]) keptSummary(ctx context.Context, at store.StreamHead) (out Summary, err error) {
	if l.caches == nil {
		return out, errNotKept
	}
	text, err := l.caches.Cache(ctx, at.Stream, summaryName)
	if err != nil {
		return out, err
	}
	k, err := unsealed[summed](text)
	if err != nil {
		return out, err
	}
	if k.Version != summaryVersion || k.Stream != at.Stream.String() || k.Hash != at.Head.Hash.String() {
		return out, errNotKept
	}
	err = json.Unmarshal([]byte(k.Summary), &out)
	out.Seq = at.Head.Seq
	return out, err
}

func (l *Ledger[S, C, E]) keepSummary(ctx context.Context, name store.Stream, at journal.Head, s Summary) error {
	if l.caches == nil {
		return nil
	}
	text, err := json.Marshal(s)
	if err != nil {
		return err
	}
	return l.caches.PutCache(ctx, name, summaryName, sealed(summed{
		Version: summaryVersion, Stream: name.String(), Hash: at.Hash.String(), Summary: string(text),
	}))
}
