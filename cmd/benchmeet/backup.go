package main

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"benchmeet/api/store/sqlite"
)

const backupHelp = `
Copies the SQLite file in --data, as of one moment, into a new file, also beside a
running server. Everything is in the copy: names, and the hashes of tokens. Keep
it as safe as the data itself. Beside it, FILE.json says when it was made and when
it is to be deleted (--keep-days): whoever is erased later is still in the copy.

"benchmeet verify FILE" checks a copy. "benchmeet import FILE" restores one into a
new folder and erases again whom the database there calls erased.

PostgreSQL has tools of its own for this: pg_dump, or its continuous archiving.

Example:
  benchmeet backup copies/saturday.db
prints
  {
    "format": "benchmeet-backup",
    "version": 1,
    "file": "saturday.db",
    "made": "2027-03-06T18:00:00Z",
    "expires": "2027-04-05T18:00:00Z"
  }`

// backupNote stands beside a backup, in FILE.json.
type backupNote struct {
	Format  string    `json:"format"`
	Version int       `json:"version"`
	File    string    `json:"file"` // its name in the same folder
	Made    time.Time `json:"made"`
	Expires time.Time `json:"expires"`
}

const backupFormat = "benchmeet-backup"

func newBackupCommand() *cobra.Command {
	var o place
	var keepDays int
	cmd := &cobra.Command{
		Use:   "backup FILE",
		Short: "Copy the SQLite file, also beside a running server",
		Long:  strings.TrimSpace(backupHelp),
		Args:  newFile,
		RunE:  func(cmd *cobra.Command, args []string) error { return backup(cmd, o, args[0], keepDays) },
	}
	o.addTo(cmd)
	cmd.Flags().IntVar(&keepDays, "keep-days", usualKeepDays, "days until the copy is to be deleted")
	return cmd
}

func backup(cmd *cobra.Command, o place, path string, keepDays int) error {
	if isPostgres(o.Database) {
		return refuse(
			"backup copies a SQLite file; back a PostgreSQL database up with its own tools, for example: pg_dump --format=custom --file=%s DATABASE",
			path,
		)
	}
	made := time.Now().UTC().Truncate(time.Second)
	expires, err := expiry(made, keepDays)
	if err != nil {
		return err
	}
	note := backupNote{backupFormat, 1, filepath.Base(path), made, expires}
	// The note first: a copy with names and without its expiry must not be left.
	err = createFile(path+".json", func(w io.Writer) error {
		e := json.NewEncoder(w)
		e.SetIndent("", "  ")
		return e.Encode(note)
	})
	if err != nil {
		return err
	}
	if err := copyDatabase(cmd.Context(), o, path); err != nil {
		return errors.Join(err, os.Remove(path+".json"))
	}
	fmt.Fprintf(cmd.ErrOrStderr(), "%s holds everything, names too. Delete it by %s (%s.json says so): "+
		"whoever is erased later is still in it.\n",
		path, expires.Format(time.DateOnly), path)
	return writeJSON(cmd, note)
}

func copyDatabase(ctx context.Context, o place, path string) error {
	s, err := sqlite.OpenReadOnly(ctx, o.file())
	if errors.Is(err, fs.ErrNotExist) {
		return o.missing()
	}
	if err != nil {
		return err
	}
	err = errors.Join(s.Backup(ctx, path), s.Close())
	if errors.Is(err, fs.ErrExist) {
		return refuse("%s is there already; choose a new name", path)
	}
	return err
}
