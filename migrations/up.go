package migrations

import (
	"errors"
	"fmt"
	"io/fs"
	"strconv"
	"strings"

	"github.com/golang-migrate/migrate/v4"
	"github.com/golang-migrate/migrate/v4/database"
	"github.com/golang-migrate/migrate/v4/source/iofs"
)

// Up brings a database to the newest version. It changes nothing in a database
// that is there already, and refuses one that a newer program has written or
// that an earlier change left half done. It leaves the driver open.
func Up(files fs.FS, folder string, driver database.Driver) error {
	newest, err := Newest(files, folder)
	if err != nil {
		return err
	}
	source, err := iofs.New(files, folder)
	if err != nil {
		return fmt.Errorf("read the migrations: %w", err)
	}
	defer func() { _ = source.Close() }()
	m, err := migrate.NewWithInstance("iofs", source, folder, driver)
	if err != nil {
		return fmt.Errorf("prepare the migrations: %w", err)
	}
	version, dirty, err := m.Version()
	switch {
	case errors.Is(err, migrate.ErrNilVersion):
	case err != nil:
		return fmt.Errorf("read the version of the tables: %w", err)
	case dirty:
		return fmt.Errorf("an earlier change to version %d of the tables stopped half-way; restore the last backup", version)
	case version > newest:
		return fmt.Errorf("the tables are at version %d and this program knows %d; use the newer program that wrote them", version, newest)
	}
	if err := m.Up(); err != nil && !errors.Is(err, migrate.ErrNoChange) {
		return fmt.Errorf("bring the tables from version %d to %d: %w", version, newest, err)
	}
	return nil
}

// Newest is the highest number among the files of a folder.
func Newest(files fs.FS, folder string) (uint, error) {
	entries, err := fs.ReadDir(files, folder)
	if err != nil {
		return 0, fmt.Errorf("read the migrations: %w", err)
	}
	var newest uint
	for _, e := range entries {
		digits, _, _ := strings.Cut(e.Name(), "_")
		number, err := strconv.ParseUint(digits, 10, 32)
		if err != nil {
			return 0, fmt.Errorf("the migration %s does not begin with its number", e.Name())
		}
		newest = max(newest, uint(number))
	}
	return newest, nil
}
