package archive

import (
	"archive/zip"
	"context"
	"encoding/json"
	"io"
	"time"

	"benchmeet/api/ledger"
	"benchmeet/api/store"
	"benchmeet/domain/day"
	"benchmeet/domain/journal"
	"benchmeet/domain/trace"
)

// Choice says what goes into an archive.
type Choice struct {
	Club store.Club
	Meet string // empty is the whole club
	// People takes people and texts in.
	People bool
	Made   time.Time
	// Expires is when the file is to be deleted.
	Expires time.Time
}

// Export writes an archive. Logs are read before traces and traces before
// people, so that what a log tells of is there even while a server goes on
// writing. A log whose hash chain is broken is ErrRefused: archives are trusted,
// and a copy of the database keeps it as it is.
func Export(ctx context.Context, from Source, c Choice, to io.Writer) (Manifest, error) {
	x := &export{from: from, choice: c, zip: zip.NewWriter(to), manifest: Manifest{
		Format: Format, Version: Version, Club: Club{c.Club.ID, c.Club.Name}, Meet: c.Meet,
		Made: c.Made.UTC().Truncate(time.Second), Expires: c.Expires.UTC().Truncate(time.Second),
		People: c.People, Streams: []Stream{},
	}}
	for _, part := range []func(context.Context) error{x.readme, x.streams, x.traces, x.people, x.erasures, x.close} {
		if err := part(ctx); err != nil {
			return Manifest{}, err
		}
	}
	return x.manifest, nil
}

// export is an archive that is being written.
type export struct {
	from     Source
	choice   Choice
	zip      *zip.Writer
	manifest Manifest
	// meet is what the chosen meet needs of the club, nil for the whole club.
	meet *belongings
}

// headerTime stands in every file's header, for the same content gives the same
// bytes; it is the first moment that the format knows.
var headerTime = time.Date(1980, 1, 1, 0, 0, 0, 0, time.UTC)

func (x *export) file(name string) (io.Writer, error) {
	return x.zip.CreateHeader(&zip.FileHeader{Name: name, Method: zip.Deflate, Modified: headerTime})
}

func (x *export) readme(context.Context) error {
	w, err := x.file(readmeFile)
	if err != nil {
		return err
	}
	_, err = io.WriteString(w, readme)
	return err
}

func (x *export) streams(ctx context.Context) error {
	heads, err := x.from.Streams(ctx, x.choice.Club.ID)
	if err != nil {
		return err
	}
	for _, h := range heads {
		if x.choice.Meet != "" && h.Stream != store.MeetStream(x.choice.Club.ID, x.choice.Meet) {
			continue
		}
		if err := x.stream(ctx, h.Stream); err != nil {
			return err
		}
	}
	if x.choice.Meet != "" && len(x.manifest.Streams) == 0 {
		return refuse("the club %s has no meet %s", x.choice.Club.ID, x.choice.Meet)
	}
	return nil
}

func (x *export) stream(ctx context.Context, s store.Stream) error {
	w, err := x.file(streamFile(s))
	if err != nil {
		return err
	}
	var head journal.Head
	state, fold, texts := day.New(), ledger.Meets(), proofs{}
	err = x.from.Read(ctx, s, 0, func(r journal.Record) error {
		var err error
		// Only the state of a meet tells which people, texts and runs are its own; of a whole club
		// everything goes, and the log need not be folded.
		if x.choice.Meet != "" {
			head, err = safely(func() (journal.Head, error) { return fold.Fold(state, head, r) })
		} else {
			head, err = head.Follow(r)
		}
		if err != nil {
			return refuse("stream %s: %w", s, err)
		}
		if err := texts.gather(r.Bytes); err != nil {
			return refuse("stream %s: record %d: %w", s, r.Seq, err)
		}
		return journal.WriteLine(w, r)
	})
	if err != nil {
		return err
	}
	if x.choice.Meet != "" {
		x.meet = belongingsOf(x.choice.Meet, state, texts)
	}
	x.manifest.Streams = append(x.manifest.Streams, streamOf(store.StreamHead{Stream: s, Head: head}))
	x.manifest.Counts.Events += head.Seq
	return nil
}

func (x *export) traces(ctx context.Context) error {
	return x.from.Runs(ctx, x.choice.Club.ID, func(run store.RunKey) error {
		chunks, err := x.from.Chunks(ctx, x.choice.Club.ID, run)
		if err != nil {
			return err
		}
		if x.meet != nil && !x.meet.hasRun(run, chunks) {
			return nil
		}
		late, err := x.from.LateChunks(ctx, x.choice.Club.ID, run)
		if err != nil {
			return err
		}
		return x.run(run, chunks, late)
	})
}

// run writes what a run is made of, and apart from it what came late.
func (x *export) run(run store.RunKey, chunks, late []trace.Stored) error {
	if err := x.chunks(traceFile(run), chunks); err != nil {
		return err
	}
	if len(late) > 0 {
		if err := x.chunks(lateFile(run), late); err != nil {
			return err
		}
	}
	x.manifest.Counts.Runs++
	x.manifest.Counts.Late += int64(len(late))
	x.manifest.Counts.Chunks += int64(len(chunks))
	return nil
}

func (x *export) chunks(name string, chunks []trace.Stored) error {
	w, err := x.file(name)
	if err != nil {
		return err
	}
	for _, c := range chunks {
		if err := writeChunk(w, c); err != nil {
			return err
		}
	}
	return nil
}

// people writes people and texts, without those who are erased: a server that
// stopped in the middle of an erasure may have left their rows.
func (x *export) people(ctx context.Context) error {
	if !x.choice.People {
		return nil
	}
	gone := erased{}
	if err := gone.gather(ctx, x.from, x.choice.Club.ID); err != nil {
		return err
	}
	people, err := x.from.AllPeople(ctx, x.choice.Club.ID)
	if err != nil {
		return err
	}
	x.manifest.Counts.People, err = lines(x, peopleFile, people, func(p store.Person) bool {
		return !gone.person(p.ID) && (x.meet == nil || x.meet.people[p.ID])
	})
	if err != nil {
		return err
	}
	texts, err := x.from.AllTexts(ctx, x.choice.Club.ID)
	if err != nil {
		return err
	}
	x.manifest.Counts.Texts, err = lines(x, textsFile, texts, func(t store.Text) bool {
		return !gone.text(t) && (x.meet == nil || x.meet.texts[t.ID])
	})
	return err
}

// erasures go into every archive whole: they are ids alone.
func (x *export) erasures(ctx context.Context) error {
	gone := erased{}
	if err := gone.gather(ctx, x.from, x.choice.Club.ID); err != nil {
		return err
	}
	var err error
	x.manifest.Counts.Erasures, err = lines(x, erasuresFile, gone.sorted(), func(store.Erasure) bool { return true })
	return err
}

// lines writes those of a list that are wanted, and counts them.
func lines[T any](x *export, name string, all []T, wanted func(T) bool) (n int64, err error) {
	w, err := x.file(name)
	if err != nil {
		return 0, err
	}
	for _, v := range all {
		if !wanted(v) {
			continue
		}
		if err := writeLine(w, v); err != nil {
			return n, err
		}
		n++
	}
	return n, nil
}

// close writes the manifest, which is known only now, and the zip's directory.
func (x *export) close(context.Context) error {
	w, err := x.file(manifestFile)
	if err != nil {
		return err
	}
	e := json.NewEncoder(w)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	if err := e.Encode(x.manifest); err != nil {
		return err
	}
	return x.zip.Close()
}
