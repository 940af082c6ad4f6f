package archive

import (
	"context"
	"crypto/sha256"
	"errors"
	"fmt"

	"benchmeet/api/store"
	"benchmeet/domain/journal"
	"benchmeet/domain/trace"
)

// Imported says what an import did for one club.
type Imported struct {
	Club    string           `json:"club"`
	Streams []ImportedStream `json:"streams"`
	// ChunksAdded and RunsSeen count traces: what was there already is not added.
	RunsSeen    int64 `json:"runs"`
	ChunksAdded int64 `json:"chunks_added"`
	PeopleAdded int64 `json:"people_added"`
	// PeopleKept were there already with other data and kept it; a consent that
	// is missing on either side is missing now.
	PeopleKept int64 `json:"people_kept"`
	TextsAdded int64 `json:"texts_added"`
	// Erased are people that this import erased here.
	Erased int64 `json:"people_erased"`
	// LeftOut are people of the source who are erased and did not come back.
	LeftOut int64 `json:"people_left_out"`
}

// ImportedStream is a stream with how many of its events are new here.
type ImportedStream struct {
	Stream string `json:"stream"`
	Events int64  `json:"events"`
	Added  int64  `json:"added"`
}

// Import brings everything of a source into a database. Before it changes
// anything it looks at all of it: a log that does not hold together, a log that
// the database has with another history, a trace or text that is there with
// another content, is ErrRefused. A log that the database has the beginning of is
// continued. Importing again changes nothing, and one that a crash cut short is
// finished by importing again.
//
// Whoever the source, the database or a log of either calls erased is erased in
// the database and never comes back.
func Import(ctx context.Context, from Source, to store.Store) ([]Imported, error) {
	clubs, err := from.Clubs(ctx)
	if err != nil {
		return nil, err
	}
	var imports []*clubImport
	for _, c := range clubs {
		im, err := plan(ctx, from, to, c)
		if err != nil {
			return nil, err
		}
		imports = append(imports, im)
	}
	var done []Imported
	for _, im := range imports {
		if err := im.carryOut(ctx); err != nil {
			return done, fmt.Errorf("the import of club %s stopped half-way; import again to finish it: %w", im.club.ID, err)
		}
		done = append(done, im.done)
	}
	return done, nil
}

// clubImport is the import of one club.
type clubImport struct {
	from Source
	to   store.Store
	club store.Club
	gone erased
	// parts are the streams with how far the database has them.
	parts []part
	// recorded are the runs that stand in a log, with the hashes there: several where
	// a name can be that of more than one of them.
	recorded map[store.RunKey][][sha256.Size]byte
	done     Imported
}

// part is a stream to be continued after what is there.
type part struct {
	head  store.StreamHead
	there journal.Head
}

// plan checks one club and changes nothing.
func plan(ctx context.Context, from Source, to store.Store, c store.Club) (*clubImport, error) {
	im := &clubImport{
		from: from, to: to, club: c, gone: erased{}, recorded: map[store.RunKey][][sha256.Size]byte{},
		done: Imported{Club: c.ID, Streams: []ImportedStream{}},
	}
	for _, check := range []func(context.Context) error{im.checkStreams, im.checkTraces, im.gather, im.checkTexts} {
		if err := check(ctx); err != nil {
			return nil, err
		}
	}
	return im, nil
}

// gather finds whom anybody calls erased.
func (im *clubImport) gather(ctx context.Context) error {
	if err := im.gone.gather(ctx, im.from, im.club.ID); err != nil {
		return err
	}
	return im.gone.gather(ctx, im.to, im.club.ID)
}

func (im *clubImport) checkStreams(ctx context.Context) error {
	heads, err := im.from.Streams(ctx, im.club.ID)
	if err != nil {
		return err
	}
	have, err := im.to.Streams(ctx, im.club.ID)
	if err != nil {
		return err
	}
	for _, h := range heads {
		p := part{head: h}
		for _, there := range have {
			if there.Stream == h.Stream {
				p.there = there.Head
			}
		}
		if err := im.checkStream(ctx, p); err != nil {
			return err
		}
		im.parts = append(im.parts, p)
	}
	return nil
}

// checkStream folds a stream and compares it with what is there. Both chains hold,
// so one equal hash at one place means that everything before is equal.
func (im *clubImport) checkStream(ctx context.Context, p part) error {
	same := p.there.Seq == 0
	_, _, err := walk(ctx, im.from, p.head, watch{
		claim: func(c claim) {
			for _, sent := range c.sent {
				run := store.RunKey{Bench: string(c.bench), Boot: c.boot, Run: sent.run}
				im.recorded[run] = append(im.recorded[run], c.hash())
			}
		},
		record: func(r journal.Record, _ journal.Envelope) error {
			same = same || r.Head() == p.there
			return nil
		},
	})
	var b broken
	if errors.As(err, &b) {
		return refuse("stream %s: %w", p.head.Stream, err)
	}
	if err != nil {
		return err
	}
	if p.there.Seq > p.head.Head.Seq { // the database is ahead
		err := im.to.Read(ctx, p.head.Stream, p.head.Head.Seq-1, func(r journal.Record) error {
			same = r.Head() == p.head.Head
			return errEnough
		})
		if err != nil && !errors.Is(err, errEnough) {
			return err
		}
	}
	if !same {
		return refuse("stream %s is in the database with another history; import into a fresh database (--data NEWFOLDER)", p.head.Stream)
	}
	return nil
}

// errEnough ends a reading.
var errEnough = errors.New("enough was read")

func (im *clubImport) checkTraces(ctx context.Context) error {
	return im.from.Runs(ctx, im.club.ID, func(run store.RunKey) error {
		chunks, err := allChunks(ctx, im.from, im.club.ID, run) // seen to be readable before anything is changed
		if err != nil {
			return err
		}
		there, err := allChunks(ctx, im.to, im.club.ID, run)
		if err != nil {
			return err
		}
		for _, c := range chunks {
			for _, old := range there {
				if old.Key.Number == c.Key.Number && !old.Same(c) {
					return refuse("chunk %d of run %s of bench %s is in the database with another content", c.Key.Number, run.Run, run.Bench)
				}
			}
		}
		return nil
	})
}

// allChunks are those that a run is made of and those that came late.
func allChunks(ctx context.Context, of Source, club string, run store.RunKey) ([]trace.Stored, error) {
	chunks, err := of.Chunks(ctx, club, run)
	if err != nil {
		return nil, err
	}
	late, err := of.LateChunks(ctx, club, run)
	return append(chunks, late...), err
}

func (im *clubImport) checkTexts(ctx context.Context) error {
	if _, err := im.from.AllPeople(ctx, im.club.ID); err != nil {
		return err // read before anything is changed
	}
	texts, err := im.from.AllTexts(ctx, im.club.ID)
	if err != nil {
		return err
	}
	there, err := im.to.AllTexts(ctx, im.club.ID)
	if err != nil {
		return err
	}
	byID := make(map[string]store.Text, len(there))
	for _, t := range there {
		byID[t.ID] = t
	}
	for _, t := range texts {
		old, known := byID[t.ID]
		if known && !im.gone.text(t) && !im.gone.text(old) && !sameWords(old, t) {
			return refuse("text %s is in the database with another content", t.ID)
		}
	}
	return nil
}

// sameWords says whether two texts say the same. Whom they are about may be noted
// differently, by an older and a newer program.
func sameWords(a, b store.Text) bool {
	a.About, b.About = nil, nil
	return a.Same(b)
}
