package postgres

import (
	"context"
	"fmt"

	"github.com/jackc/pgx/v5"

	"benchmeet/migrations"
)

// Version reads the version of the tables in a database, without changing
// anything, and the newest version that this program knows. A database without
// tables has version 0.
func Version(ctx context.Context, url string) (version, newest uint, err error) {
	conn, err := pgx.Connect(ctx, url)
	if err != nil {
		return 0, 0, fmt.Errorf("postgres: read the version: %w", plain(err)) // pgx hides the password
	}
	defer closeConn(conn)
	if version, err = versionOf(ctx, conn); err != nil {
		return 0, 0, fmt.Errorf("postgres: read the version: %w", plain(err))
	}
	newest, err = migrations.Newest(migrations.Postgres, "postgres")
	return version, newest, err
}

func versionOf(ctx context.Context, conn *pgx.Conn) (uint, error) {
	var there bool
	if err := conn.QueryRow(ctx, `SELECT to_regclass('schema_migrations') IS NOT NULL`).Scan(&there); err != nil || !there {
		return 0, err
	}
	var (
		version int64
		dirty   bool
	)
	err := conn.QueryRow(ctx, `
		SELECT
			COALESCE(MAX(version), 0),
			COALESCE(BOOL_OR(dirty), false)
		FROM schema_migrations`).Scan(&version, &dirty)
	if err != nil {
		return 0, err
	}
	if dirty {
		return 0, fmt.Errorf("an earlier change to version %d of the tables stopped half-way; restore the last backup", version)
	}
	return uint(version), nil
}
