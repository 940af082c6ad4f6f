package archive

import (
	"context"
	"errors"
	"fmt"
	"maps"
	"sync"

	"benchmeet/api/store"
	"benchmeet/domain/journal"
	"benchmeet/domain/trace"
)

// carryOut does what plan found possible. Erasures come first, so that nobody
// erased is written even for a moment; traces come before the logs that tell of
// them, as they do in a running server.
func (im *clubImport) carryOut(ctx context.Context) error {
	if err := im.to.EnsureClub(ctx, im.club); err != nil {
		return err
	}
	for _, do := range []func(context.Context) error{im.erase, im.traces, im.people, im.streams, im.closeRuns} {
		if err := do(ctx); err != nil {
			return err
		}
	}
	return nil
}

// erase erases whom the database has not erased yet. One that it has is erased
// again only where a row is left, because each erasure writes the file anew.
func (im *clubImport) erase(ctx context.Context) error {
	noted, err := im.to.Erasures(ctx, im.club.ID)
	if err != nil {
		return err
	}
	people, err := im.to.AllPeople(ctx, im.club.ID)
	if err != nil {
		return err
	}
	texts, err := im.to.AllTexts(ctx, im.club.ID)
	if err != nil {
		return err
	}
	due := maps.Clone(im.gone)
	for _, n := range noted {
		// The keys of what is gone have no time.
		n.AtUS = 0
		delete(due, n)
	}
	again := func(what store.Erasure) {
		if atUS, gone := im.gone[what]; gone {
			due[what] = atUS
		}
	}
	// Whoever is noted and has a row all the same is erased again; counted are only those with a row.
	for _, p := range people {
		if im.gone.person(p.ID) {
			again(store.Erasure{Person: p.ID})
			im.done.Erased++
		}
	}
	for _, t := range texts {
		again(store.Erasure{Text: t.ID})
		for _, person := range t.About {
			again(store.Erasure{Person: person})
		}
	}
	for _, e := range due.sorted() {
		erase, id := im.to.Erase, e.Person
		if e.Text != "" {
			erase, id = im.to.EraseText, e.Text
		}
		if err := erase(ctx, im.club.ID, id, e.AtUS); err != nil {
			return err
		}
	}
	// Once for all of them: it writes the file anew.
	return im.to.Overwrite(ctx)
}

// chunkWriters write at the same time, so that they share the syncs of the
// drive.
const chunkWriters = 16

func (im *clubImport) traces(ctx context.Context) error {
	ctx, stop := context.WithCancelCause(ctx)
	defer stop(nil)
	var (
		work = make(chan trace.Stored)
		done sync.WaitGroup
		mu   sync.Mutex
	)
	for range chunkWriters {
		done.Go(func() {
			for c := range work {
				fresh, err := im.to.PutChunk(ctx, im.club.ID, c)
				if err != nil {
					// The others go on taking, or the reader would wait for ever for somebody to hand over to;
					// it sees that ctx is done and hands over no more.
					stop(err)
				}
				mu.Lock()
				if fresh {
					im.done.ChunksAdded++
				}
				mu.Unlock()
			}
		})
	}
	err := im.from.Runs(ctx, im.club.ID, func(run store.RunKey) error {
		im.done.RunsSeen++
		chunks, err := allChunks(ctx, im.from, im.club.ID, run)
		if err != nil {
			return err
		}
		for _, c := range chunks {
			select {
			case work <- c:
			case <-ctx.Done():
				return context.Cause(ctx)
			}
		}
		return nil
	})
	// Also after an error, and before the counts are read.
	close(work)
	done.Wait()
	if err != nil {
		return err
	}
	return context.Cause(ctx)
}

// people writes people and texts in one transaction.
func (im *clubImport) people(ctx context.Context) error {
	people, err := im.from.AllPeople(ctx, im.club.ID)
	if err != nil {
		return err
	}
	texts, err := im.from.AllTexts(ctx, im.club.ID)
	if err != nil || len(people)+len(texts) == 0 {
		return err
	}
	// What is here already is read once, and not asked for person by person.
	have, err := im.to.AllPeople(ctx, im.club.ID)
	if err != nil {
		return err
	}
	there := make(map[string]store.Person, len(have))
	for _, p := range have {
		there[p.ID] = p
	}
	known, err := im.knownTexts(ctx)
	if err != nil {
		return err
	}
	return im.to.Write(ctx, store.ClubStream(im.club.ID), func(tx store.Tx) error {
		for _, p := range people {
			old, known := there[p.ID]
			if err := im.person(ctx, tx, p, old, known); err != nil {
				return err
			}
		}
		for _, t := range texts {
			// A text is never changed under its id, so one that is here needs nothing.
			if im.gone.text(t) || known[t.ID] {
				continue
			}
			im.done.TextsAdded++
			if err := tx.PutText(ctx, t); err != nil {
				return err
			}
		}
		return nil
	})
}

func (im *clubImport) knownTexts(ctx context.Context) (map[string]bool, error) {
	texts, err := im.to.AllTexts(ctx, im.club.ID)
	known := make(map[string]bool, len(texts))
	for _, t := range texts {
		known[t.ID] = true
	}
	return known, err
}

// person writes one person. Nothing says which of two rows is the newer, so the
// database keeps its own; but a consent holds only where both have it, because
// the one that lacks it may be a guardian's change of mind.
func (im *clubImport) person(ctx context.Context, tx store.Tx, p, old store.Person, known bool) error {
	if im.gone.person(p.ID) {
		im.done.LeftOut++
		return nil
	}
	if !known {
		im.done.PeopleAdded++
		return tx.PutPerson(ctx, p)
	}
	if p == old {
		return nil
	}
	im.done.PeopleKept++
	both := old
	both.OnScreen, both.InResults, both.Photo = old.OnScreen && p.OnScreen, old.InResults && p.InResults, old.Photo && p.Photo
	if both == old {
		return nil
	}
	return tx.PutPerson(ctx, both)
}

func (im *clubImport) streams(ctx context.Context) error {
	for _, p := range im.parts {
		if err := im.stream(ctx, p); err != nil {
			return err
		}
	}
	return nil
}

// appendSize is how many records are appended at a time.
const appendSize = 500

// stream appends what the database lacks, all or nothing.
func (im *clubImport) stream(ctx context.Context, p part) error {
	added := max(0, p.head.Head.Seq-p.there.Seq)
	im.done.Streams = append(im.done.Streams, ImportedStream{p.head.Stream.String(), p.head.Head.Seq, added})
	if added == 0 {
		return nil
	}
	return im.to.Write(ctx, p.head.Stream, func(tx store.Tx) error {
		// The plan was made without the lock, so it is looked once more, inside it.
		err := tx.Read(ctx, p.there.Seq, func(journal.Record) error {
			return fmt.Errorf("somebody wrote to stream %s meanwhile", p.head.Stream)
		})
		if err != nil {
			return err
		}
		var some []journal.Record
		err = im.from.Read(ctx, p.head.Stream, p.there.Seq, func(r journal.Record) error {
			// The source may have grown since; that was not checked.
			if r.Seq > p.head.Head.Seq {
				return nil
			}
			some = append(some, r)
			if len(some) < appendSize {
				return nil
			}
			err := tx.Append(ctx, some)
			some = some[:0]
			return err
		})
		if err != nil {
			return err
		}
		return tx.Append(ctx, some)
	})
}

// closeRuns fixes what the runs that stand in a log are made of, by the hash there,
// and notes that they stand in it, so that the next server does not take them for new
// ones.
func (im *clubImport) closeRuns(ctx context.Context) error {
	for run, hashes := range im.recorded {
		chunks, err := allChunks(ctx, im.to, im.club.ID, run)
		if err != nil {
			return err
		}
		for _, hash := range hashes {
			_, n, err := trace.Recorded(chunks, hash)
			if err != nil && !errors.Is(err, trace.ErrDisagree) {
				continue // the hash of a run of nearly that name
			}
			if err := im.to.FreezeRun(ctx, im.club.ID, run, n); err != nil {
				return err
			}
			break
		}
	}
	open, err := im.to.OpenRuns(ctx, im.club.ID)
	if err != nil {
		return err
	}
	for _, run := range open {
		if _, stands := im.recorded[run]; !stands {
			continue
		}
		if err := im.to.CloseRun(ctx, im.club.ID, run); err != nil {
			return err
		}
	}
	return nil
}
