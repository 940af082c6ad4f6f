package main

import (
	"context"
	"path/filepath"
	"strings"

	"benchmeet/api/store"
	"benchmeet/api/store/postgres"
	"benchmeet/api/store/sqlite"
)

// databaseFile is the SQLite file in a data folder.
const databaseFile = "benchmeet.db"

// openStore opens the database: a PostgreSQL address, or else the SQLite file in
// the data folder.
func openStore(ctx context.Context, database, data string) (store.Store, error) {
	if isPostgres(database) {
		return postgres.Open(ctx, database)
	}
	return sqlite.Open(ctx, filepath.Join(data, databaseFile))
}

// storeKind is what a report calls the store.
func storeKind(database string) string {
	if isPostgres(database) {
		return "postgres"
	}
	return "sqlite"
}

func isPostgres(database string) bool {
	return strings.HasPrefix(database, "postgres://") || strings.HasPrefix(database, "postgresql://")
}
