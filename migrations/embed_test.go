package migrations_test

import (
	"io/fs"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"benchmeet/migrations"
)

// Both databases are at the same version after the same release, so a file for
// one without its counterpart is a mistake.
func TestBothDatabasesHaveTheSameFiles(t *testing.T) {
	sqlite := names(t, migrations.SQLite, "sqlite")
	postgres := names(t, migrations.Postgres, "postgres")
	if diff := cmp.Diff(sqlite, postgres); diff != "" {
		t.Errorf("file names (-sqlite +postgres):\n%s", diff)
	}
	for _, up := range sqlite {
		down, is := strings.CutSuffix(up, ".up.sql")
		if !is {
			continue
		}
		if _, err := fs.Stat(migrations.SQLite, "sqlite/"+down+".down.sql"); err != nil {
			t.Errorf("%s has no way down: %v", up, err)
		}
	}
}

func names(t *testing.T, files fs.FS, folder string) []string {
	t.Helper()
	entries, err := fs.ReadDir(files, folder)
	if err != nil {
		t.Fatal(err)
	}
	if len(entries) == 0 {
		t.Fatalf("no file in %s", folder)
	}
	var out []string
	for _, e := range entries {
		out = append(out, e.Name())
	}
	return out
}
