package postgres

import (
	"testing"

	"benchmeet/api/store/postgres/pgtest"
)

// Looking at the version makes no tables; opening does.
func TestVersion(t *testing.T) {
	url := pgtest.Database(t)
	for range 2 {
		version, newest, err := Version(t.Context(), url)
		if err != nil || version != 0 || newest == 0 {
			t.Fatalf("an empty database: version %d of %d, %v", version, newest, err)
		}
	}
	s, err := Open(t.Context(), url)
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	version, newest, err := Version(t.Context(), url)
	if err != nil || version != newest {
		t.Errorf("after opening: version %d of %d, %v", version, newest, err)
	}
	if _, err := s.pool.Exec(t.Context(), `UPDATE schema_migrations SET dirty = true`); err != nil {
		t.Fatal(err)
	}
	if _, _, err := Version(t.Context(), url); err == nil {
		t.Error("tables that stopped half-way have a version")
	}
}
