package migrations_test

import (
	"fmt"
	"io/fs"
	"regexp"
	"strings"
	"testing"

	"benchmeet/migrations"
)

// firstRolled is the first version of the tables that a server may be brought to while others
// of the version before go on.
const firstRolled = 7

// What a server of the version before would stumble over while it still runs.
var (
	comment    = regexp.MustCompile(`--[^\n]*`)
	takesAway  = regexp.MustCompile(`(?i)\b(DROP|RENAME|TRUNCATE)\b|\bDELETE\s+FROM\b`)
	makesOther = regexp.MustCompile(`(?i)\bALTER\s+COLUMN\b|\bSET\s+NOT\s+NULL\b|\bADD\s+(CONSTRAINT|CHECK|UNIQUE|PRIMARY|FOREIGN|EXCLUDE)\b`)
	column     = regexp.MustCompile(`(?is)\bADD\s+COLUMN\b.*`)
	unique     = regexp.MustCompile(`(?is)\bCREATE\s+UNIQUE\s+INDEX\b.*?\bON\s+(\w+)`)
	trigger    = regexp.MustCompile(`(?i)\bCREATE\s+(OR\s+REPLACE\s+)?(CONSTRAINT\s+)?(TRIGGER|RULE|FUNCTION)\b`)
)

// takesFrom says what of a migration takes something from a program that does not know of it;
// empty where it only adds.
func takesFrom(sql string) string {
	sql = comment.ReplaceAllString(sql, "")
	for statement := range strings.SplitSeq(sql, ";") {
		if bad := takesAway.FindString(statement); bad != "" {
			return bad
		}
		if bad := makesOther.FindString(statement); bad != "" {
			return bad
		}
		if bad := trigger.FindString(statement); bad != "" {
			return bad
		}
		added := strings.ToUpper(column.FindString(statement))
		if strings.Contains(added, "NOT NULL") && !strings.Contains(added, "DEFAULT") {
			return "a column that must be given"
		}
		if on := unique.FindStringSubmatch(statement); on != nil && !regexp.MustCompile(`(?i)\bCREATE\s+TABLE\s+`+on[1]+`\b`).MatchString(sql) {
			return "what must be unique from now on in " + on[1]
		}
	}
	return ""
}

// TestMigrationsOnlyAdd: the first server of a new version brings the tables up while those of
// the version before go on reading and writing them.
func TestMigrationsOnlyAdd(t *testing.T) {
	looked := 0
	for _, name := range names(t, migrations.Postgres, "postgres") {
		var number int
		if _, err := fmt.Sscanf(name, "%06d_", &number); err != nil {
			t.Fatal(err)
		}
		if number < firstRolled || !strings.HasSuffix(name, ".up.sql") {
			continue
		}
		sql, err := fs.ReadFile(migrations.Postgres, "postgres/"+name)
		if err != nil {
			t.Fatal(err)
		}
		if what := takesFrom(string(sql)); what != "" {
			t.Errorf("%s has %q, which servers of the version before do not know of: take it away a release later", name, what)
		}
		looked++
	}
	if looked == 0 {
		t.Error("no migration was looked at")
	}
}

func TestTakesFrom(t *testing.T) {
	for _, tt := range []struct {
		sql  string
		adds bool
	}{
		{"CREATE TABLE lamps (lamp text PRIMARY KEY, lit boolean NOT NULL)", true},
		{"ALTER TABLE clubs ADD COLUMN lit bigint NOT NULL DEFAULT 0", true},
		{"ALTER TABLE clubs ADD COLUMN lit bigint", true},
		{"ALTER TABLE clubs ADD COLUMN lit bigint NOT NULL", false},
		{"-- DROP TABLE clubs;\nCREATE INDEX lit ON clubs (lit)", true},
		{"DROP TABLE clubs", false},
		{"alter table clubs rename to houses", false},
		{"ALTER TABLE clubs ALTER COLUMN host TYPE bytea", false},
		{"ALTER TABLE clubs ALTER host SET NOT NULL", false},
		{"ALTER TABLE clubs ADD CONSTRAINT named CHECK (name <> '')", false},
		{"CREATE UNIQUE INDEX named ON clubs (name)", false},
		{"CREATE TABLE lamps (lamp text); CREATE UNIQUE INDEX named ON lamps (lamp)", true},
		{"DELETE FROM answers", false},
		{"UPDATE clubs SET host = ''", true},
	} {
		if what := takesFrom(tt.sql); (what == "") != tt.adds {
			t.Errorf("%s: %q", tt.sql, what)
		}
	}
}
