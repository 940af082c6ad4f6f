package archive

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"

	"benchmeet/api/ledger"
	"benchmeet/api/store"
	"benchmeet/domain/club"
	"benchmeet/domain/day"
	"benchmeet/domain/journal"
	"benchmeet/domain/meet"
)

// folder folds one stream, whichever kind it is, and looks at each event on the
// way.
type folder interface {
	// add follows the chain, decodes and folds. Before the fold, see gets the
	// claim of the event, if it makes one.
	add(head journal.Head, r journal.Record, e journal.Envelope, see func(claim)) (journal.Head, error)
	// state is the folded state as JSON.
	state() ([]byte, error)
}

// folderOf chooses by the stream's name.
func folderOf(s store.Stream) (folder, error) {
	if _, is := s.Meet(); is {
		return &meetFolder{day.New(), ledger.Meets()}, nil
	}
	if s == store.ClubStream(s.Club) {
		return &clubFolder{club.New(), ledger.Clubs()}, nil
	}
	return nil, fmt.Errorf("this program does not know streams named %s", s.Name)
}

type meetFolder struct {
	s     *day.State
	model ledger.Model[day.State, meet.Command, day.Event]
}

func (f *meetFolder) add(head journal.Head, r journal.Record, e journal.Envelope, see func(claim)) (journal.Head, error) {
	if e.Type == (day.RunRecorded{}).Type() || e.Type == (day.RunMeasuredAgain{}).Type() {
		event, err := f.model.Decode(e.Type, e.V, e.Data)
		if err != nil {
			return head, err
		}
		see(claimOf(f.s, event))
	}
	return f.model.Fold(f.s, head, r)
}

// claimOf is what an event of a meet says of a run. A hand count has no trace.
func claimOf(s *day.State, event day.Event) claim {
	switch e := event.(type) {
	case day.RunMeasuredAgain:
		return again(s, e)
	case day.RunRecorded:
		if c, measured := ofMeet(s, e); measured {
			return c
		}
		return claim{figures: e.Figures}
	}
	return claim{}
}

func (f *meetFolder) state() ([]byte, error) { return json.Marshal(f.s) }

type clubFolder struct {
	s     *club.State
	model ledger.Model[club.State, club.Command, club.Event]
}

func (f *clubFolder) add(head journal.Head, r journal.Record, e journal.Envelope, see func(claim)) (journal.Head, error) {
	if e.Type == (club.PracticeRecorded{}).Type() {
		event, err := f.model.Decode(e.Type, e.V, e.Data)
		if err != nil {
			return head, err
		}
		if recorded, is := event.(club.PracticeRecorded); is {
			see(ofClub(f.s, recorded))
		}
	}
	return f.model.Fold(f.s, head, r)
}

func (f *clubFolder) state() ([]byte, error) { return json.Marshal(f.s) }

// watch is what a walk along a stream tells of.
type watch struct {
	claim  func(claim)
	record func(journal.Record, journal.Envelope) error
}

// broken is something in a log that does not hold, unlike a source that fails.
type broken struct{ error }

func (b broken) Unwrap() error { return b.error }

// walk follows a stream from its first record to the head that is listed and
// returns the head as far as everything held, with the state's hash. Its error is
// broken where something did not hold. Records behind the listed head are left
// out: a server may go on writing.
func walk(ctx context.Context, from Source, listed store.StreamHead, w watch) (journal.Head, string, error) {
	s := listed.Stream
	fold, err := folderOf(s)
	if err != nil {
		return journal.Head{}, "", broken{err}
	}
	var head journal.Head
	var timeUS int64
	err = from.Read(ctx, s, 0, func(r journal.Record) error {
		if r.Seq > listed.Head.Seq {
			return nil
		}
		if _, err := head.Follow(r); err != nil {
			return broken{err} // before its bytes are looked at
		}
		e, err := r.Open()
		switch {
		case err != nil:
			return broken{err}
		case e.Stream != s.String():
			return broken{fmt.Errorf("record %d says that it is of the stream %s", r.Seq, e.Stream)}
		case e.Time < timeUS && e.Type != (day.ClockSet{}).Type(): // which sets the time back
			return broken{fmt.Errorf("record %d is older than the one before it", r.Seq)}
		}
		next, err := safely(func() (journal.Head, error) {
			return fold.add(head, r, e, func(c claim) {
				c.stream, c.atUS = s.String(), e.Time
				w.claim(c)
			})
		})
		if err != nil {
			return broken{fmt.Errorf("record %d: %w", r.Seq, err)}
		}
		head, timeUS = next, e.Time
		return w.record(r, e)
	})
	if err != nil {
		return head, "", err
	}
	if head != listed.Head {
		return head, "", broken{
			fmt.Errorf("the stream ends at record %d with %s, and is listed with %d and %s", head.Seq, head.Hash, listed.Head.Seq, listed.Head.Hash),
		}
	}
	state, err := fold.state()
	if err != nil {
		return head, "", broken{err}
	}
	sum := sha256.Sum256(state)
	return head, hex.EncodeToString(sum[:]), nil
}
