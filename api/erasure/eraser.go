package erasure

import (
	"context"
	"fmt"
	"log/slog"
	"slices"

	"benchmeet/api/ledger"
	"benchmeet/api/store"
	"benchmeet/domain/club"
	"benchmeet/domain/day"
	"benchmeet/domain/journal"
)

// Eraser finishes erasures. Its methods may be called from many goroutines.
type Eraser struct {
	store   store.Store
	clubs   *ledger.Ledger[club.State, club.Command, club.Event]
	changed func(club string)
	log     *slog.Logger
	turn    chan struct{} // held by who removes rows
}

// Options are what an eraser needs.
type Options struct {
	Store store.Store
	Clubs *ledger.Ledger[club.State, club.Command, club.Event]
	// Changed is called when rows of a club were removed, so that reads and screens
	// look again. Nil where there are none.
	Changed func(club string)
	Log     *slog.Logger
}

// New makes an eraser.
func New(o Options) *Eraser {
	if o.Changed == nil {
		o.Changed = func(string) {}
	}
	if o.Log == nil {
		o.Log = slog.New(slog.DiscardHandler)
	}
	return &Eraser{store: o.Store, clubs: o.Clubs, changed: o.Changed, log: o.Log, turn: make(chan struct{}, 1)}
}

// Finish removes everything that the club's log calls erased and has its space
// overwritten, also where an earlier call or another process began it. It costs two
// looks into the store where nothing is left to do.
func (e *Eraser) Finish(ctx context.Context, clubID string) error {
	if err := e.Remove(ctx, clubID); err != nil {
		return err
	}
	return e.store.Overwrite(ctx)
}

// Remove is the first half of Finish: afterwards nothing shows what was erased.
func (e *Eraser) Remove(ctx context.Context, clubID string) error {
	select {
	case e.turn <- struct{}{}:
	case <-ctx.Done():
		return ctx.Err()
	}
	defer func() { <-e.turn }()
	due, err := e.due(ctx, clubID)
	if err != nil || len(due) == 0 {
		return err
	}
	defer e.changed(clubID) // also of those that came before one that failed
	older, err := e.olderTexts(ctx, clubID)
	if err != nil {
		return err
	}
	for _, d := range due {
		if err := e.remove(ctx, clubID, d, older); err != nil {
			return err
		}
	}
	return nil
}

func (e *Eraser) remove(ctx context.Context, clubID string, d store.Erasure, older map[string][]string) error {
	if d.Text != "" {
		return e.store.EraseText(ctx, clubID, d.Text, d.AtUS)
	}
	// The texts go first: that the person is noted as erased says that all is done.
	for text, people := range older {
		if !slices.Contains(people, d.Person) {
			continue
		}
		if err := e.store.EraseText(ctx, clubID, text, d.AtUS); err != nil {
			return err
		}
	}
	return e.store.Erase(ctx, clubID, d.Person, d.AtUS)
}

// due lists what the club's log calls erased and the store does not.
func (e *Eraser) due(ctx context.Context, clubID string) ([]store.Erasure, error) {
	snapshot, err := e.clubs.At(ctx, store.ClubStream(clubID), 0)
	if err != nil {
		return nil, err
	}
	state := snapshot.State
	if len(state.Erased)+len(state.ErasedTexts) == 0 {
		return nil, nil
	}
	done, err := e.store.Erasures(ctx, clubID)
	if err != nil {
		return nil, err
	}
	noted := make(map[store.Erasure]bool, len(done))
	for _, d := range done {
		noted[store.Erasure{Person: d.Person, Text: d.Text}] = true
	}
	var due []store.Erasure
	for person, atUS := range state.Erased {
		if !noted[store.Erasure{Person: string(person)}] {
			due = append(due, store.Erasure{Person: string(person), AtUS: atUS})
		}
	}
	for text, atUS := range state.ErasedTexts {
		if !noted[store.Erasure{Text: text}] {
			due = append(due, store.Erasure{Text: text, AtUS: atUS})
		}
	}
	return due, nil
}

// olderTexts finds whom texts are about that were written when not all of it was
// noted, in the logs of the meets. It costs a fold of every meet, as long as there are
// such texts.
func (e *Eraser) olderTexts(ctx context.Context, clubID string) (map[string][]string, error) {
	texts, err := e.store.AllTexts(ctx, clubID)
	if err != nil {
		return nil, err
	}
	older := map[string][]string{}
	for _, t := range texts {
		if slices.Contains(t.About, "") {
			older[t.ID] = t.About
		}
	}
	if len(older) == 0 {
		return nil, nil
	}
	heads, err := e.store.Streams(ctx, clubID)
	if err != nil {
		return nil, err
	}
	for _, h := range heads {
		if _, is := h.Stream.Meet(); !is {
			continue
		}
		if err := e.lookUp(ctx, h.Stream, older); err != nil {
			// One damaged meet must not keep a name from being erased.
			e.log.Error(
				"whom the texts of a meet are about cannot be read; look through them and remove them one by one", "meet", h.Stream.String(), "error",
				err,
			)
		}
	}
	return older, nil
}

// lookUp adds whom the texts of a meet are about, by its log.
func (e *Eraser) lookUp(ctx context.Context, s store.Stream, older map[string][]string) (err error) {
	defer func() {
		if cause := recover(); cause != nil {
			err = fmt.Errorf("an event does not fit those before it: %v", cause)
		}
	}()
	model, state := ledger.Meets(), day.New()
	return e.store.Read(ctx, s, 0, func(r journal.Record) error {
		envelope, err := r.Open()
		if err != nil {
			return err
		}
		event, err := model.Decode(envelope.Type, envelope.V, envelope.Data)
		if err != nil {
			return err
		}
		if text := day.TextOf(event); text != "" && older[text] != nil {
			people, _ := model.About(state, text, []day.Event{event}) // nobody knows of some
			older[text] = append(older[text], people...)
		}
		model.Evolve(state, event, envelope.Time)
		return nil
	})
}
