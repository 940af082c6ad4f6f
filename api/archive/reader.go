package archive

import (
	"archive/zip"
	"bytes"
	"cmp"
	"context"
	"encoding/json"
	"errors"
	"io"
	"os"
	"slices"

	"benchmeet/api/store"
	"benchmeet/domain/journal"
	"benchmeet/domain/trace"
)

// Reader is an archive that was opened. Its methods may be called from many
// goroutines at once.
type Reader struct {
	manifest Manifest
	heads    []store.StreamHead
	runs     []store.RunKey
	files    map[string]*zip.File
	close    func() error
}

var _ Source = (*Reader)(nil)

// Open opens an archive. It is ErrUnreadable where the file is none, and
// ErrRefused where a later program wrote it. Nothing in the file is trusted:
// Verify checks it.
func Open(path string) (*Reader, error) {
	file, err := os.Open(path)
	if err != nil {
		return nil, cannotRead("cannot read the archive: %w", err)
	}
	info, err := file.Stat()
	if err != nil {
		return nil, errors.Join(err, file.Close())
	}
	r, err := NewReader(file, info.Size())
	if err != nil {
		return nil, errors.Join(err, file.Close())
	}
	r.close = file.Close
	return r, nil
}

// NewReader reads an archive from anything that can be read at any place.
func NewReader(from io.ReaderAt, size int64) (*Reader, error) {
	z, err := zip.NewReader(from, size)
	if err != nil {
		return nil, cannotRead("this is no archive: %w", err)
	}
	r := &Reader{files: make(map[string]*zip.File, len(z.File)), close: func() error { return nil }}
	for _, f := range z.File {
		if _, twice := r.files[f.Name]; twice {
			return nil, cannotRead("the archive holds %s twice", f.Name)
		}
		r.files[f.Name] = f
	}
	if err := r.readManifest(); err != nil {
		return nil, err
	}
	return r, r.index()
}

func (r *Reader) readManifest() error {
	text, err := r.content(manifestFile)
	if err != nil {
		return err
	}
	var form struct {
		Format  string `json:"format"`
		Version int    `json:"version"`
	}
	if err := json.Unmarshal(text, &form); err != nil || form.Format != Format {
		return cannotRead("the zip file is no archive of this program")
	}
	if form.Version > Version {
		return refuse("the archive has version %d and this program knows %d; use the newer program that wrote it", form.Version, Version)
	}
	if err := readLine(text, &r.manifest); err != nil {
		return cannotRead("the manifest cannot be read: %w", err)
	}
	return nil
}

// index finds the streams and runs, and everything that must be there.
func (r *Reader) index() error {
	var events int64
	for _, s := range r.manifest.Streams {
		events += s.Events
		head, err := s.head(r.manifest.Club.ID)
		if err != nil {
			return err
		}
		if r.files[streamFile(head.Stream)] == nil {
			return cannotRead("the archive lacks the stream %s", s.Stream)
		}
		r.heads = append(r.heads, head)
	}
	for name := range r.files {
		if run, is := runOf(name); is {
			r.runs = append(r.runs, run)
		}
	}
	slices.SortFunc(r.heads, func(a, b store.StreamHead) int { return cmp.Compare(a.Stream.Name, b.Stream.Name) })
	slices.SortFunc(r.runs, func(a, b store.RunKey) int {
		return cmp.Or(cmp.Compare(a.Bench, b.Bench), cmp.Compare(a.Boot, b.Boot), cmp.Compare(a.Run, b.Run))
	})
	for i := 1; i < len(r.heads); i++ {
		if r.heads[i].Stream == r.heads[i-1].Stream {
			return cannotRead("the manifest lists the stream %s twice", r.heads[i].Stream)
		}
	}
	// The files of streams were looked up by name. Those of runs are known by nothing but their
	// number, so this is where one that was taken out shows.
	if events != r.manifest.Counts.Events {
		return cannotRead("the manifest counts %d events and its streams have %d", r.manifest.Counts.Events, events)
	}
	if int64(len(r.runs)) != r.manifest.Counts.Runs {
		return cannotRead("the archive holds the traces of %d runs, its manifest says %d", len(r.runs), r.manifest.Counts.Runs)
	}
	return nil
}

// Manifest says what is in the archive.
func (r *Reader) Manifest() Manifest { return r.manifest }

// Close releases the file.
func (r *Reader) Close() error { return r.close() }

// open opens a file of the archive.
func (r *Reader) open(name string) (io.ReadCloser, error) {
	f := r.files[name]
	if f == nil {
		return nil, cannotRead("the archive lacks %s", name)
	}
	from, err := f.Open()
	if err != nil {
		return nil, cannotRead("%s in the archive: %w", name, err)
	}
	return from, nil
}

// content reads a small file whole.
func (r *Reader) content(name string) ([]byte, error) {
	from, err := r.open(name)
	if err != nil {
		return nil, err
	}
	defer func() { _ = from.Close() }()
	text, err := io.ReadAll(io.LimitReader(from, longestLine+1))
	if err != nil || len(text) > longestLine {
		return nil, cannotRead("%s in the archive is damaged or too long: %w", name, err)
	}
	return text, nil
}

// lines calls each with every line of a file.
func (r *Reader) lines(ctx context.Context, name string, each func([]byte) error) error {
	from, err := r.open(name)
	if err != nil {
		return err
	}
	defer func() { _ = from.Close() }()
	return eachLine(from, func(text []byte) error {
		if err := ctx.Err(); err != nil {
			return err
		}
		return each(text)
	})
}

// Clubs is the one club of the archive.
func (r *Reader) Clubs(context.Context) ([]store.Club, error) {
	return []store.Club{{ID: r.manifest.Club.ID, Name: r.manifest.Club.Name}}, nil
}

// Streams lists the streams with the heads that the manifest gives them.
func (r *Reader) Streams(_ context.Context, club string) ([]store.StreamHead, error) {
	if club != r.manifest.Club.ID {
		return nil, nil
	}
	return slices.Clone(r.heads), nil
}

// Read calls each with every record after seq. Its bytes and hashes are those of
// the file, unchecked.
func (r *Reader) Read(ctx context.Context, s store.Stream, after int64, each func(journal.Record) error) error {
	at := slices.IndexFunc(r.heads, func(h store.StreamHead) bool { return h.Stream == s })
	if at < 0 {
		return nil
	}
	return r.lines(ctx, streamFile(s), func(text []byte) error {
		record, err := journal.ReadLine(text)
		if err != nil {
			return cannotRead("stream %s in the archive: %w", s, err)
		}
		if last := r.heads[at].Head.Seq; record.Seq > last {
			return cannotRead("stream %s in the archive goes on after record %d, the last that its manifest tells of", s, last)
		}
		if record.Seq <= after {
			return nil
		}
		return each(record)
	})
}

// Runs calls each with every run's key, in order.
func (r *Reader) Runs(_ context.Context, club string, each func(store.RunKey) error) error {
	if club != r.manifest.Club.ID {
		return nil
	}
	for _, run := range r.runs {
		if err := each(run); err != nil {
			return err
		}
	}
	return nil
}

// Chunks returns a run's chunks in the order of the file, none if it is not
// there.
func (r *Reader) Chunks(ctx context.Context, club string, run store.RunKey) ([]trace.Stored, error) {
	return r.chunks(ctx, club, run, traceFile(run))
}

// LateChunks returns what came for a run after it was recorded, none where nothing
// did.
func (r *Reader) LateChunks(ctx context.Context, club string, run store.RunKey) ([]trace.Stored, error) {
	return r.chunks(ctx, club, run, lateFile(run))
}

func (r *Reader) chunks(ctx context.Context, club string, run store.RunKey, name string) ([]trace.Stored, error) {
	if club != r.manifest.Club.ID || r.files[name] == nil {
		return nil, nil
	}
	var out []trace.Stored
	key := trace.Key{Bench: run.Bench, Boot: run.Boot, Run: run.Run}
	err := r.lines(ctx, name, func(text []byte) error {
		c, err := readChunk(text, key)
		if err != nil {
			return cannotRead("run %s of bench %s in the archive: %w", run.Run, run.Bench, err)
		}
		if len(out) == trace.MaxChunks {
			return cannotRead("run %s of bench %s in the archive has more than %d chunks", run.Run, run.Bench, trace.MaxChunks)
		}
		out = append(out, c)
		return nil
	})
	return out, err
}

// AllPeople lists the people, none where they were left out.
func (r *Reader) AllPeople(ctx context.Context, club string) ([]store.Person, error) {
	if !r.manifest.People {
		return nil, nil
	}
	return listOf[store.Person](ctx, r, club, peopleFile, r.manifest.Counts.People)
}

// AllTexts lists the texts, none where they were left out.
func (r *Reader) AllTexts(ctx context.Context, club string) ([]store.Text, error) {
	if !r.manifest.People {
		return nil, nil
	}
	if r.manifest.Version > 1 {
		return listOf[store.Text](ctx, r, club, textsFile, r.manifest.Counts.Texts)
	}
	older, err := listOf[textOfOne](ctx, r, club, textsFile, r.manifest.Counts.Texts)
	var out []store.Text
	for _, t := range older {
		out = append(out, store.Text{ID: t.ID, About: []string{"", t.About}, Salt: t.Salt, Text: t.Text}.Sorted())
	}
	return out, err
}

// textOfOne is a text as version 1 has it: about one person, and nobody knows of
// others.
type textOfOne struct {
	ID    string `json:"id"`
	About string `json:"about,omitempty"`
	Salt  []byte `json:"salt"`
	Text  string `json:"text"`
}

// Erasures lists whom the archive calls erased.
func (r *Reader) Erasures(ctx context.Context, club string) ([]store.Erasure, error) {
	return listOf[store.Erasure](ctx, r, club, erasuresFile, r.manifest.Counts.Erasures)
}

func listOf[T any](ctx context.Context, r *Reader, club, name string, count int64) ([]T, error) {
	if club != r.manifest.Club.ID {
		return nil, nil
	}
	var out []T
	err := r.lines(ctx, name, func(text []byte) error {
		var v T
		if err := readLine(bytes.TrimSpace(text), &v); err != nil {
			return cannotRead("line %d of %s in the archive: %w", len(out)+1, name, err)
		}
		out = append(out, v)
		return nil
	})
	if err == nil && int64(len(out)) != count {
		err = cannotRead("%s in the archive has %d lines, its manifest says %d", name, len(out), count)
	}
	return out, err
}
