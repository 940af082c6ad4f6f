package sqlite

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"os"
	"path/filepath"

	"benchmeet/migrations"
)

// Version reads the version of the tables in a file that is there, without
// changing or locking it, and the newest version that this program knows. A file
// without tables has version 0.
func Version(ctx context.Context, path string) (version, newest uint, err error) {
	if _, err := os.Stat(path); err != nil {
		return 0, 0, fmt.Errorf("sqlite: read the version of %s: %w", path, err)
	}
	db, err := sql.Open("sqlite", readOnlyDSN(path, !mayWrite(filepath.Dir(path)) && wholeWithout(path)))
	if err != nil {
		return 0, 0, fmt.Errorf("sqlite: read the version of %s: %w", path, err)
	}
	defer func() { _ = db.Close() }()
	if version, err = versionOf(ctx, db); err != nil {
		return 0, 0, fmt.Errorf("sqlite: read the version of %s: %w", path, err)
	}
	newest, err = migrations.Newest(migrations.SQLite, "sqlite")
	return version, newest, err
}

func versionOf(ctx context.Context, db *sql.DB) (uint, error) {
	// A file without the table of versions is new: that is version 0, and not an error.
	var tables int
	err := db.QueryRowContext(ctx, `
		SELECT COUNT(*)
		FROM sqlite_schema
		WHERE name = 'schema_migrations'`).Scan(&tables)
	if err != nil {
		return 0, fmt.Errorf("this is no database that can be read: %w", err)
	}
	if tables == 0 {
		return 0, nil
	}
	var (
		version uint
		dirty   bool
	)
	err = db.QueryRowContext(ctx, `
		SELECT
			version,
			dirty
		FROM schema_migrations`).Scan(&version, &dirty)
	switch {
	case errors.Is(err, sql.ErrNoRows):
		return 0, nil
	case err != nil:
		return 0, err
	case dirty:
		return 0, fmt.Errorf("an earlier change to version %d of the tables stopped half-way; restore the last backup", version)
	}
	return version, nil
}

// checkVersion refuses tables that this program cannot read as they are.
func checkVersion(ctx context.Context, db *sql.DB) error {
	version, err := versionOf(ctx, db)
	if err != nil {
		return err
	}
	newest, err := migrations.Newest(migrations.SQLite, "sqlite")
	switch {
	case err != nil:
		return err
	case version == 0:
		return errors.New("this database has no tables of ours")
	case version < newest:
		return fmt.Errorf("the tables are at version %d and this program needs %d; bring them up first (benchmeet migrate)", version, newest)
	case version > newest:
		return fmt.Errorf("the tables are at version %d and this program knows %d; use the newer program that wrote them", version, newest)
	}
	return nil
}
