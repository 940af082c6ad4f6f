package sqlite_test

import (
	"context"
	"path/filepath"
	"testing"

	"benchmeet/api/store"
	"benchmeet/api/store/sqlite"
	"benchmeet/api/store/storetest"
)

// database is a file in a folder of its own.
var database = storetest.Database{
	New: func(t testing.TB) storetest.Open {
		path := filepath.Join(t.TempDir(), "data", "meet.db")
		return func() (store.Store, error) { return sqlite.Open(context.Background(), path) }
	},
}

func TestStore(t *testing.T) { storetest.Run(t, database) }
