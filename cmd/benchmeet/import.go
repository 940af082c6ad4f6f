package main

import (
	"errors"
	"fmt"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"benchmeet/api/archive"
)

const importHelp = `
Brings an export, or a backup of SQLite, into a database: the SQLite file in
--data, made if it is not there, or --database postgres://.... It looks at all of
the file first; a broken hash chain, a log that the database has with another
history, or a later format is refused, and nothing is changed. A log that the
database has the beginning of is continued. Importing again adds nothing; an
import that was cut short is finished by importing again.

Whoever was erased stays erased: erasures of the file, of the database and of the
logs are applied again. A person whom the database has keeps the row there, but a
consent holds only where both have it. Tokens do not travel: the server prints a
new sign-in at its next start (serve --new-sign-in where it has one).

To restore a backup: stop the server, move the old folder away, import the backup
into a new one, and import the latest export, if any, for what came after.

Example:
  benchmeet import spring.benchmeet --data new-data
prints
  [{"club": "home", "streams": [{"stream": "home/meet/spring", "events": 412, "added": 412}],
    "runs": 96, "chunks_added": 1152, "people_added": 24, "people_kept": 0, "texts_added": 3,
    "people_erased": 0, "people_left_out": 1}]`

func newImportCommand() *cobra.Command {
	var to place
	cmd := &cobra.Command{
		Use:   "import FILE",
		Short: "Bring an export or a backup into a database",
		Long:  strings.TrimSpace(importHelp),
		Args:  oneFile,
		RunE:  func(cmd *cobra.Command, args []string) error { return importFile(cmd, to, args[0]) },
	}
	to.addTo(cmd)
	return cmd
}

func importFile(cmd *cobra.Command, o place, path string) error {
	ctx := cmd.Context()
	from, err := openFile(ctx, path)
	if err != nil {
		return err
	}
	defer func() { _ = from.Close() }() // it was only read
	if r, is := from.(*archive.Reader); is && r.Manifest().Expires.Before(time.Now()) {
		fmt.Fprintf(cmd.ErrOrStderr(), "%s was to be deleted on %s.\n", path, r.Manifest().Expires.Format(time.DateOnly))
	}
	to, err := o.openToWrite(ctx, "Stop the server with Ctrl-C, import, and start it again")
	if err != nil {
		return err
	}
	done, err := archive.Import(ctx, from, to)
	if err := errors.Join(err, to.Close()); err != nil {
		return says(fmt.Errorf("%s: %w", path, err))
	}
	for _, d := range done {
		if d.Club != homeClub {
			fmt.Fprintf(cmd.ErrOrStderr(), "The club %s is kept here under its own id; benchmeet serve shows the club %s, "+
				"and this one once it is invited under its id (benchmeet club invite).\n", d.Club, homeClub)
		}
	}
	return writeJSON(cmd, done)
}
