// Package migrations holds the tables of the store as numbered SQL files, with
// the same numbers and names for SQLite and PostgreSQL.
//
// Each database applies its own files by itself when the store is opened. A
// file that was released is never changed; a new number follows.
package migrations

import "embed"

// SQLite holds the files for SQLite in the folder "sqlite".
//
//go:embed sqlite/*.sql
var SQLite embed.FS

// Postgres holds the files for PostgreSQL in the folder "postgres".
//
//go:embed postgres/*.sql
var Postgres embed.FS
