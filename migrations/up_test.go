package migrations_test

import (
	"strings"
	"testing"
	"testing/fstest"

	"benchmeet/migrations"
)

func TestNewest(t *testing.T) {
	for _, c := range []struct {
		name  string
		files []string
		want  uint
		says  string
	}{
		{name: "the highest, not the last", files: []string{"000002_a.up.sql", "000010_b.up.sql", "000010_b.down.sql"}, want: 10},
		{name: "a file without a number", files: []string{"000001_a.up.sql", "notes.sql"}, says: "notes.sql"},
		{name: "no folder", says: "read the migrations"},
	} {
		t.Run(c.name, func(t *testing.T) {
			files := make(fstest.MapFS)
			for _, name := range c.files {
				files["sqlite/"+name] = &fstest.MapFile{}
			}
			got, err := migrations.Newest(files, "sqlite")
			if c.says == "" && err != nil || c.says != "" && (err == nil || !strings.Contains(err.Error(), c.says)) {
				t.Fatalf("error %v, want one with %q", err, c.says)
			}
			if got != c.want {
				t.Errorf("newest is %d, want %d", got, c.want)
			}
		})
	}
}
