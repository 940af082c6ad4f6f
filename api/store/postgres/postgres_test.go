package postgres_test

import (
	"context"
	"os"
	"testing"

	"benchmeet/api/store"
	"benchmeet/api/store/postgres"
	"benchmeet/api/store/postgres/pgtest"
	"benchmeet/api/store/storetest"
)

func TestMain(m *testing.M) { os.Exit(pgtest.Main(m)) }

// database is a database of a server that the tests share.
var database = storetest.Database{
	New: func(t testing.TB) storetest.Open {
		url := pgtest.Database(t)
		return func() (store.Store, error) { return postgres.Open(context.Background(), url) }
	},
	Shared: true,
}

func TestStore(t *testing.T) { storetest.Run(t, database) }

func BenchmarkStore(b *testing.B) { storetest.Benchmark(b, database) }
