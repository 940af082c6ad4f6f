package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"github.com/caarlos0/env/v11"
	"github.com/spf13/cobra"

	"benchmeet/api/archive"
	"benchmeet/api/store"
	"benchmeet/api/store/postgres"
	"benchmeet/api/store/sqlite"
)

// place is where the data is, from flags, or from the environment as for serve.
type place struct {
	Data     string `env:"BENCHMEET_DATA" envDefault:"benchmeet-data"`
	Database string `env:"BENCHMEET_DATABASE"`
}

// addTo gives a command the flags --data and --database.
func (p *place) addTo(cmd *cobra.Command) {
	if err := env.Parse(p); err != nil {
		cmd.RunE = func(*cobra.Command, []string) error { return err }
	}
	cmd.Flags().StringVar(&p.Data, "data", p.Data, "folder of the SQLite file")
	cmd.Flags().StringVar(&p.Database, "database", p.Database, "postgres://... instead of SQLite")
}

func (p place) file() string { return filepath.Join(p.Data, databaseFile) }

// source is what care commands read from.
type source interface {
	archive.Source
	Close() error
}

// openToRead opens the database beside a server that may be running, and changes
// nothing in it.
func (p place) openToRead(ctx context.Context) (source, error) {
	if !isPostgres(p.Database) {
		s, err := sqlite.OpenReadOnly(ctx, p.file())
		if errors.Is(err, fs.ErrNotExist) {
			return nil, p.missing()
		}
		if err != nil {
			return nil, err // not a nil *Store in an interface
		}
		return s, nil
	}
	version, newest, err := postgres.Version(ctx, p.Database)
	switch {
	case err != nil:
		return nil, err
	case version == 0:
		return nil, errors.New("the database has no tables of ours; is it the right one?")
	case version < newest:
		return nil, refuse("the tables are at version %d and this program needs %d; bring them up first: benchmeet migrate", version, newest)
	}
	s, err := postgres.Open(ctx, p.Database)
	if err != nil {
		return nil, err
	}
	return s, nil
}

func (p place) missing() error {
	return fmt.Errorf("there is no database in %s; name its folder with --data", p.Data)
}

// openToWrite opens the database for a command that changes it. A SQLite file
// that a server has open is refused, with what to do instead.
func (p place) openToWrite(ctx context.Context, instead string) (store.Store, error) {
	s, err := openStore(ctx, p.Database, p.Data)
	if errors.Is(err, sqlite.ErrInUse) {
		return nil, refuse("%w. %s", err, instead)
	}
	return s, err
}

// sqliteHeader begins every SQLite file.
const sqliteHeader = "SQLite format 3\x00"

// openFile opens an export, or a backup of SQLite.
func openFile(ctx context.Context, path string) (source, error) {
	file, err := os.Open(path)
	if err != nil {
		return nil, fmt.Errorf("cannot read the file: %w", err)
	}
	begin := make([]byte, len(sqliteHeader))
	_, err = io.ReadFull(file, begin)
	_ = file.Close()
	if errors.Is(err, io.EOF) {
		return nil, fmt.Errorf("%s is empty: the copy did not work; make one with benchmeet backup", path)
	}
	if err == nil && string(begin) == sqliteHeader {
		s, err := sqlite.OpenReadOnly(ctx, path)
		if err != nil {
			return nil, err
		}
		return s, nil
	}
	r, err := archive.Open(path)
	if err != nil {
		return nil, says(fmt.Errorf("%s: %w", path, err))
	}
	return r, nil
}

// says gives an archive's refusal the exit code of one.
func says(err error) error {
	if errors.Is(err, archive.ErrRefused) {
		return refuse("%w", err)
	}
	return err
}

// chooseClub finds the club that is meant: the named one, or the only one.
func chooseClub(ctx context.Context, from interface {
	Clubs(context.Context) ([]store.Club, error)
}, wanted string,
) (store.Club, error) {
	clubs, err := from.Clubs(ctx)
	if err != nil {
		return store.Club{}, err
	}
	var ids []string
	for _, c := range clubs {
		if c.ID == wanted || wanted == "" && len(clubs) == 1 {
			return c, nil
		}
		ids = append(ids, c.ID)
	}
	switch {
	case len(clubs) == 0:
		return store.Club{}, refuse("the database holds no club")
	case wanted == "":
		return store.Club{}, refuse("the database holds several clubs; choose one with --club: %s", strings.Join(ids, ", "))
	}
	return store.Club{}, refuse("there is no club %s; there are: %s", wanted, strings.Join(ids, ", "))
}

// createFile makes a fresh file for its owner alone, has it written, and syncs
// it. It refuses a file that is there, and leaves none behind when writing fails.
func createFile(path string, write func(io.Writer) error) (err error) {
	file, err := os.OpenFile(path, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o600)
	if errors.Is(err, fs.ErrExist) {
		return refuse("%s is there already; choose a new name", path)
	}
	if err != nil {
		return fmt.Errorf("cannot make the file: %w", err)
	}
	defer func() {
		err = errors.Join(err, file.Close())
		if err != nil {
			_ = os.Remove(path)
		}
	}()
	if err := write(file); err != nil {
		return err
	}
	return file.Sync()
}
