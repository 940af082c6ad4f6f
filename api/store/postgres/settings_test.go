package postgres

import (
	"testing"

	"github.com/jackc/pgx/v5"

	"benchmeet/api/store/postgres/pgtest"
)

// What returned is on disk, even where the database or the URL would have it
// otherwise.
func TestCommitsAreSynced(t *testing.T) {
	url := pgtest.Database(t)
	lax, err := pgx.Connect(t.Context(), url)
	if err != nil {
		t.Fatal(err)
	}
	defer closeConn(lax)
	if _, err := lax.Exec(t.Context(), `
		DO $$
		BEGIN
			EXECUTE format('ALTER DATABASE %I SET synchronous_commit = off', current_database());
		END
		$$`); err != nil {
		t.Fatal(err)
	}
	for _, more := range []string{"", "&synchronous_commit=off"} {
		s, err := Open(t.Context(), url+more)
		if err != nil {
			t.Fatal(err)
		}
		var setting string
		if err := s.pool.QueryRow(t.Context(), `SHOW synchronous_commit`).Scan(&setting); err != nil {
			t.Fatal(err)
		}
		if setting != "on" {
			t.Errorf("with %q synchronous_commit is %s, want on", more, setting)
		}
		_ = s.Close()
	}
}

func TestPoolSize(t *testing.T) {
	url := pgtest.Database(t)
	for _, c := range []struct {
		more string
		want int32
	}{
		{"", connections},
		{"&pool_max_conns=40", 40},
		{"&pool_max_conns=1", fewestConnections},
	} {
		s, err := Open(t.Context(), url+c.more)
		if err != nil {
			t.Fatal(err)
		}
		if got := s.pool.Config().MaxConns; got != c.want {
			t.Errorf("with %q the pool has room for %d, want %d", c.more, got, c.want)
		}
		if room := cap(s.writes); room < 1 || room >= int(c.want) {
			t.Errorf("with %q %d of %d connections may write at once", c.more, room, c.want)
		}
		_ = s.Close()
	}
}
