package main

import (
	"bufio"
	"context"
	"fmt"
	"io"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"benchmeet/api/archive"
)

const exportHelp = `
Writes everything of a club into one file: the logs with their hash chains, the
traces of every run, people, free texts, and the ids of erased people. Tokens and
secrets are never in it. --meet takes one meet alone; --without-people leaves
people and texts out, and start numbers stand for names. It works beside a
running server.

The file is a zip with a README.txt that says how anybody can check the hashes
and read the stamps. "benchmeet verify FILE" checks it, "benchmeet import FILE"
brings it into another database, SQLite or PostgreSQL.

With names in it, the file is to be kept like the entry list and deleted when it
expires: whoever is erased later is still in it. Its manifest is printed.

Example:
  benchmeet export spring.benchmeet --meet spring --without-people
prints
  {
    "format": "benchmeet-archive",
    "version": 1,
    "club": {"id": "home", "name": "Harbour Hall"},
    "meet": "spring",
    "made": "2027-03-06T18:00:00Z",
    "expires": "2027-04-05T18:00:00Z",
    "people": false,
    "streams": [{"stream": "home/meet/spring", "events": 412, "head": "9f2c..."}],
    "counts": {"events": 412, "runs": 96, "chunks": 1152, "people": 0, "texts": 0, "erasures": 1}
  }`

// exportSettings are the flags of "benchmeet export".
type exportSettings struct {
	place
	club, meet    string
	from          string
	withoutPeople bool
	keepDays      int
}

// usualKeepDays is how long copies with names are kept.
const usualKeepDays = 30

func newExportCommand() *cobra.Command {
	var o exportSettings
	cmd := &cobra.Command{
		Use:   "export FILE",
		Short: "Write everything of a club, or one meet, into one file",
		Long:  strings.TrimSpace(exportHelp),
		Args:  newFile,
		RunE:  func(cmd *cobra.Command, args []string) error { return export(cmd, o, args[0]) },
	}
	o.addTo(cmd)
	f := cmd.Flags()
	f.StringVar(&o.club, "club", "", "id of the club; needed where there are several")
	f.StringVar(&o.meet, "meet", "", "id of the one meet to take")
	f.StringVar(&o.from, "from", "", "read another export, or a backup, instead of the database")
	f.BoolVar(&o.withoutPeople, "without-people", false, "leave people and free texts out")
	f.IntVar(&o.keepDays, "keep-days", usualKeepDays, "days until the file is to be deleted")
	return cmd
}

// newFile asks for the name of a file to be made.
func newFile(cmd *cobra.Command, args []string) error {
	if len(args) != 1 {
		return fmt.Errorf("%s needs the name of the file to make; see: benchmeet help %s", cmd.Name(), cmd.Name())
	}
	return nil
}

// expiry is when a copy that is made now is to be deleted.
func expiry(made time.Time, days int) (time.Time, error) {
	if days < 1 || days > 3660 {
		return made, fmt.Errorf("--keep-days is %d; give 1 to 3660 days", days)
	}
	return made.AddDate(0, 0, days), nil
}

func export(cmd *cobra.Command, o exportSettings, path string) error {
	ctx := cmd.Context()
	made := time.Now().UTC()
	// Before anything is opened: a wrong number of days costs no time then.
	expires, err := expiry(made, o.keepDays)
	if err != nil {
		return err
	}
	from, err := o.open(ctx)
	if err != nil {
		return err
	}
	defer func() { _ = from.Close() }() // it was only read
	club, err := chooseClub(ctx, from, o.club)
	if err != nil {
		return err
	}
	var manifest archive.Manifest
	err = createFile(path, func(w io.Writer) error {
		buffered := bufio.NewWriterSize(w, 1<<20)
		manifest, err = archive.Export(ctx, from, archive.Choice{
			Club: club, Meet: o.meet, People: !o.withoutPeople, Made: made, Expires: expires,
		}, buffered)
		if err != nil {
			return says(err)
		}
		// createFile syncs what reached the file, so nothing may be left in the buffer.
		return buffered.Flush()
	})
	if err != nil {
		return err
	}
	if manifest.People {
		fmt.Fprintf(cmd.ErrOrStderr(), "%s holds the data of %d people. Delete it by %s: whoever is erased later is still in it.\n",
			path, manifest.Counts.People, expires.Format(time.DateOnly))
	}
	return writeJSON(cmd, manifest)
}

func (o exportSettings) open(ctx context.Context) (source, error) {
	if o.from != "" {
		return openFile(ctx, o.from)
	}
	return o.openToRead(ctx)
}
