package main

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"github.com/google/uuid"
	"github.com/spf13/cobra"

	"benchmeet/api/archive"
	"benchmeet/api/erasure"
	"benchmeet/api/fleet"
	"benchmeet/api/ledger"
	"benchmeet/api/store"
	"benchmeet/domain/club"
	"benchmeet/domain/day"
)

const eraseHelp = `
Erases a person for good: the row with name and birth date, and the free texts
about them with their salts, are removed and their space is overwritten. The log
keeps the id and notes the erasure; every screen, export and import shows the
start number from then on, and an import never brings the person back.

While a server has the SQLite file open, erase at the desk instead, or through the
API: DELETE /api/v1/people/{id}. With --database it works beside the servers.

What was copied before still holds the name: backups and exports (those in the
data folder are listed, with the day by which they are to be deleted), and for
PostgreSQL its write-ahead log until it is recycled, its archive and its standbys.

--note notes an id that nobody here has, so that a later import leaves it out.

Example:
  benchmeet erase p-17
prints
  {"club": "home", "person": "p-17", "seq": 231, "head": "51d0...",
   "still_in": [{"file": "benchmeet-data/saturday.db", "expires": "2027-04-05T18:00:00Z"}]}`

// eraseOutput is what "benchmeet erase" prints.
type eraseOutput struct {
	Club   string `json:"club"`
	Person string `json:"person"`
	Seq    int64  `json:"seq"` // of the club's log afterwards
	Head   string `json:"head"`
	// StillIn are copies in the data folder that were made before.
	StillIn []copyHeld `json:"still_in"`
}

// copyHeld is a backup or an export with people.
type copyHeld struct {
	File    string    `json:"file"`
	Expires time.Time `json:"expires"`
}

func newEraseCommand() *cobra.Command {
	var o place
	var clubID string
	var note bool
	cmd := &cobra.Command{
		Use:   "erase PERSON",
		Short: "Erase a person's name and data for good",
		Long:  strings.TrimSpace(eraseHelp),
		Args: func(_ *cobra.Command, args []string) error {
			if len(args) != 1 {
				return errors.New("erase needs the id of one person; see: benchmeet help erase")
			}
			return nil
		},
		RunE: func(cmd *cobra.Command, args []string) error { return erase(cmd, o, clubID, args[0], note) },
	}
	o.addTo(cmd)
	cmd.Flags().StringVar(&clubID, "club", "", "id of the club; needed where there are several")
	cmd.Flags().BoolVar(&note, "note", false, "also an id that nobody here has")
	return cmd
}

func erase(cmd *cobra.Command, o place, clubID, person string, note bool) (err error) {
	ctx := cmd.Context()
	if err := day.CheckID("person", string(day.EntrantID(person))); err != nil {
		return refuse("%w", err)
	}
	// Opening would make an empty database where somebody mistyped the folder.
	if !isPostgres(o.Database) {
		if _, err := os.Stat(o.file()); errors.Is(err, fs.ErrNotExist) {
			return o.missing()
		}
	}
	s, err := o.openToWrite(ctx, "Erase at the desk of that server, or through its API: DELETE /api/v1/people/"+person)
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, s.Close()) }()
	c, err := chooseClub(ctx, s, clubID)
	if err != nil {
		return err
	}
	if err := known(ctx, s, c.ID, person); err != nil && !note {
		return err
	}
	receipt, err := erasePerson(ctx, s, c.ID, person)
	if err != nil {
		return err
	}
	out := eraseOutput{Club: c.ID, Person: person, Seq: receipt.Seq, Head: receipt.Head, StillIn: []copyHeld{}}
	if !isPostgres(o.Database) {
		out.StillIn = copiesIn(o.Data)
	}
	sayWhatIsLeft(cmd, o, out)
	return writeJSON(cmd, out)
}

// known refuses an id that nobody has, because a slip of the finger would look
// like an erasure.
func known(ctx context.Context, s store.Store, clubID, person string) error {
	people, err := s.AllPeople(ctx, clubID)
	if err != nil {
		return err
	}
	erasures, err := s.Erasures(ctx, clubID)
	if err != nil {
		return err
	}
	texts, err := s.AllTexts(ctx, clubID)
	if err != nil {
		return err
	}
	if slices.ContainsFunc(people, func(p store.Person) bool { return p.ID == person }) ||
		slices.ContainsFunc(erasures, func(e store.Erasure) bool { return e.Person == person }) ||
		slices.ContainsFunc(texts, func(t store.Text) bool { return slices.Contains(t.About, person) }) {
		return nil
	}
	return refuse("nobody in the club %s has the id %s; check the id at the desk, or note it all the same with --note", clubID, person)
}

// erasePerson notes the erasure in the log first, so that a server erases again
// what a stop in between left.
func erasePerson(ctx context.Context, s store.Store, clubID, person string) (ledger.Receipt, error) {
	key, err := s.Secret(ctx, "order-content")
	if err != nil {
		return ledger.Receipt{}, err
	}
	id, err := uuid.NewV7()
	if err != nil {
		return ledger.Receipt{}, err
	}
	books := ledger.Options{Logs: s, Key: key}
	if shared, is := s.(store.Fleet); is { // servers that run read what is written here
		if books.Fleet, err = fleet.Guest(ctx, fleet.Options{Store: shared, Reads: serverOptions{}.models().reads()}); err != nil {
			return ledger.Receipt{}, err
		}
	}
	clubs := ledger.New(ledger.Clubs(), books)
	defer clubs.Close()
	receipt, err := clubs.Do(ctx, store.ClubStream(clubID), ledger.Order[club.Command]{
		ID: id.String(), Content: []byte("benchmeet erase " + person), Actor: "command-line",
		Command: club.ErasePerson{Person: day.EntrantID(person)}, Thing: person,
	})
	if err != nil {
		return receipt, err
	}
	return receipt, erasure.New(erasure.Options{Store: s, Clubs: clubs}).Finish(ctx, clubID)
}

// copiesIn finds the copies with names in a folder: backups by their notes, and
// exports by their manifests.
func copiesIn(folder string) []copyHeld {
	out := []copyHeld{}
	_ = filepath.WalkDir(folder, func(path string, entry fs.DirEntry, err error) error {
		if err != nil || !entry.Type().IsRegular() {
			return nil //nolint:nilerr // what cannot be looked at is not ours
		}
		if r, err := archive.Open(path); err == nil {
			if r.Manifest().People {
				out = append(out, copyHeld{path, r.Manifest().Expires})
			}
			_ = r.Close()
			return nil
		}
		if note, is := readNote(path); is {
			out = append(out, copyHeld{filepath.Join(filepath.Dir(path), note.File), note.Expires})
		}
		return nil
	})
	return out
}

// readNote reads the note beside a backup that is still there.
func readNote(path string) (backupNote, bool) {
	var note backupNote
	if filepath.Ext(path) != ".json" {
		return note, false
	}
	text, err := os.ReadFile(path)
	if err != nil || json.Unmarshal(text, &note) != nil || note.Format != backupFormat {
		return note, false
	}
	_, err = os.Stat(filepath.Join(filepath.Dir(path), filepath.Base(note.File)))
	return note, err == nil
}

func sayWhatIsLeft(cmd *cobra.Command, o place, out eraseOutput) {
	w := cmd.ErrOrStderr()
	fmt.Fprintf(
		w, "%s is erased here. Backups and exports that were made before may still hold the name: delete them, at the latest when they expire.\n",
		out.Person,
	)
	for _, c := range out.StillIn {
		fmt.Fprintf(w, "  %s, to be deleted by %s\n", c.File, c.Expires.Format(time.DateOnly))
	}
	if isPostgres(o.Database) {
		fmt.Fprintln(
			w,
			"PostgreSQL keeps older pages in its write-ahead log until the log is recycled, and in its archive and standbys for as long as those are kept.",
		)
	}
}
