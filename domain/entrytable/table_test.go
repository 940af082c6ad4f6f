package entrytable_test

import (
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"benchmeet/domain/day"
	"benchmeet/domain/entrytable"
)

// meetOf is a meet on 17 April 2027 with Juniors of 6 to 10, an open division, one that is
// closed, and Kit Known with number 7 among the Juniors.
func meetOf() *day.State {
	s := day.New()
	for _, e := range []day.Event{
		day.MeetPlanned{Plan: day.Plan{Name: "Harbour Hall spring meet", Date: "2027-04-17"}},
		day.DivisionAdded{Division: day.Division{ID: "junior", Name: "Juniors", AgeFrom: 6, AgeTo: 10}},
		day.DivisionAdded{Division: day.Division{ID: "open", Name: "Open"}},
		day.DivisionAdded{Division: day.Division{ID: "closed", Name: "Closed"}},
		day.EntriesClosed{Division: "closed"},
		day.EntryTaken{ID: "e7", Division: "junior", StartNumber: 7, Entrant: "known", Car: "c7"},
	} {
		day.Evolve(s, e, 1)
	}
	return s
}

var known = []entrytable.Person{{ID: "known", Name: "Kit Known", Birth: "2018-01-01"}}

func id(prefix string, row int) string { return fmt.Sprint(prefix, row) }

// look reads a file as a page would and looks at it.
func look(t *testing.T, path string) (entrytable.Looked, entrytable.Charset) {
	t.Helper()
	file, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	text, charset, no := entrytable.Decode(file)
	if no != nil {
		return entrytable.Looked{Faults: []entrytable.Fault{*no}}, charset
	}
	table, faults := entrytable.Read(text)
	l := entrytable.Look(meetOf(), entrytable.Asked{Table: table, Known: known, ID: id})
	l.Faults = append(faults, l.Faults...)
	return l, charset
}

// TestEveryBrokenFileNamesItsPlace: lines, columns and what is wrong were read off the
// files by hand.
func TestEveryBrokenFileNamesItsPlace(t *testing.T) {
	want := map[string]string{
		"empty":                  "1:1 table-empty",
		"blank-lines":            "1:1 table-empty",
		"heads-only":             "2:1 table-no-rows",
		"no-heads":               "1:1 table-no-heads",
		"no-name":                "1:1 table-no-name",
		"unclosed-quote":         "3:2 table-quote-open",
		"quote-inside":           "3:2 table-quote-inside",
		"quote-then-text":        "2:2 table-quote-inside",
		"nul-bytes":              "2:2 table-control",
		"control-byte":           "2:5 table-control",
		"binary":                 "2:1 table-control",
		"workbook":               "1:1 table-workbook",
		"utf16-le":               "1:1 table-wide",
		"utf16-be-unmarked":      "1:1 table-wide",
		"invalid-utf8":           "2:2 table-damaged",
		"half-utf8":              "3:2 table-damaged",
		"no-charset":             "2:2 table-damaged",
		"lost-character":         "2:2 table-lost-character",
		"row-too-long":           "2:6 table-cells-many",
		"row-too-short":          "3:4 table-cells-few",
		"other-separator":        "3:1 table-separator-here",
		"mixed-separators":       "1:3 table-separators",
		"many-columns":           "1:41 table-columns",
		"401-rows":               "402:1 table-rows",
		"same-head-twice":        "1:4 table-head-twice",
		"number-twice":           "3:1 table-number-twice",
		"number-taken":           "2:1 table-number-taken",
		"number-no-number":       "3:1 table-number",
		"no-such-day":            "2:3 table-no-such-day",
		"date-of-two-meanings":   "2:3 table-date",
		"short-year":             "2:3 table-date",
		"born-after-the-meet":    "2:3 birth-date",
		"born-too-long-ago":      "2:3 birth-date",
		"unknown-division":       "2:4 table-division",
		"division-missing":       "3:2 table-division-empty",
		"division-closed":        "2:4 entries-closed",
		"too-old":                "2:3 table-too-old",
		"name-missing":           "2:2 table-name-empty",
		"long-cell":              "2:5 table-cell-long",
		"long-name-of-two-cells": "2:2 table-cell-long",
		"same-person-twice":      "3:2 table-person-there",
		"entered-already":        "2:2 table-person-there",
		"neither-yes-nor-no":     "3:3 table-yes-no",
		"consents-unsaid":        "3:3 table-consents",
	}
	files, err := filepath.Glob("testdata/broken/*.csv")
	if err != nil || len(files) != len(want) {
		t.Fatalf("%d files for %d names: %v", len(files), len(want), err)
	}
	for _, path := range files {
		name := strings.TrimSuffix(filepath.Base(path), ".csv")
		t.Run(name, func(t *testing.T) {
			l, _ := look(t, path)
			faults := l.Faults
			for _, r := range l.Rows {
				faults = append(faults, r.Faults...)
			}
			if len(faults) != 1 {
				t.Fatalf("%d mistakes, wanted one: %v", len(faults), faults)
			}
			f := faults[0]
			if got := fmt.Sprintf("%d:%d %s", f.Line, f.Column, f.Why.Code); got != want[name] {
				t.Errorf("%s, wanted %s", got, want[name])
			}
			if says := f.Why.Error(); !strings.Contains(says, ": ") || strings.ContainsAny(says, "{}") {
				t.Errorf("it does not say what to do: %q", says)
			}
			if l.Good() {
				t.Error("it would be taken")
			}
		})
	}
}

// TestNamesOfTablesAreThoseOfForms: what a form refuses to write down of a person is
// refused at its cell, whether the table came as a file or as the rows of a page.
func TestNamesOfTablesAreThoseOfForms(t *testing.T) {
	heads := []string{"Number", "First name", "Last name", "Nickname", "Say as", "Born", "Division", "Club"}
	row := func(at int, cell string) []string {
		cells := []string{"21", "Kit", "Lantern", "Comet", "kit", "2018-05-02", "Juniors", "Harbour"}
		cells[at-1] = cell
		return cells
	}
	for _, tt := range []struct {
		name  string
		cells []string
		want  string
	}{
		{"nothing odd", row(2, "Zoë-\u200cMüller"), ""},
		{"lines and blanks within a cell", row(2, "Kit\n  Anne"), ""},
		{"a first name that turns", row(2, "Kit\u202e"), "2 name-odd"},
		{"a last name that turns", row(3, "Lantern\u2067"), "3 name-odd"},
		{"an escape in a name", row(3, "Lan\x1b[2Jtern"), "3 name-odd"},
		{"a nickname that turns", row(4, "Com\u202det"), "4 name-odd"},
		{"a nickname of nothing", row(4, "\u200b\u3164"), "4 name-blank"},
		{"said with a control character", row(5, "k\u0007it"), "5 name-odd"},
		{"said at too great a length", row(5, strings.Repeat("é", 101)), "5 table-cell-long"},
		{"a nickname that no screen takes", row(4, strings.Repeat("é", 41)), "4 table-cell-long"},
		{"born before anybody", row(6, "1899-12-31"), "6 birth-date"},
		{"a club that turns", row(8, "Har\u202ebour"), "8 entry-team"},
		{"a club of nothing", row(8, "\u200b"), "8 entry-team"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			table := entrytable.Table{HeadLine: 1, Heads: heads, Rows: []entrytable.Row{{Line: 2, Cells: tt.cells}}}
			l := entrytable.Look(meetOf(), entrytable.Asked{Table: table, ID: id})
			var got []string
			for _, f := range append(l.Faults, l.Rows[0].Faults...) {
				got = append(got, fmt.Sprint(f.Column, " ", f.Why.Code))
			}
			if strings.Join(got, ", ") != tt.want {
				t.Errorf("%q, want %q", got, tt.want)
			}
		})
	}
}

// TestFormsOfATable: the same two entries in each form that spreadsheets save.
func TestFormsOfATable(t *testing.T) {
	want := []entrytable.Entry{
		{
			Number: 11, Nickname: "Lärche", Name: "Kit Lärche", Birth: "2018-05-02", Division: "Juniors", Club: `Harbour "Pier" Club`,
			OnScreen: true, Photo: true,
		},
		{Number: 12, Nickname: "=Puffin", Name: "Kit Puffin", Birth: "2018-05-03", Division: "juniors", OnScreen: true},
	}
	files, err := filepath.Glob("testdata/good/*.csv")
	if err != nil || len(files) != 4 {
		t.Fatal(files, err)
	}
	for _, path := range files {
		l, charset := look(t, path)
		if !l.Good() || len(l.Notes) > 0 {
			t.Errorf("%s: %+v", path, l)
			continue
		}
		if is := strings.Contains(path, "1252"); is != (charset == entrytable.Windows1252) {
			t.Errorf("%s was read as %s", path, charset)
		}
		var got []entrytable.Entry
		for _, r := range l.Rows {
			got = append(got, r.Entry)
		}
		if diff := cmp.Diff(want, got); diff != "" {
			t.Errorf("%s (-want +got):\n%s", path, diff)
		}
		if l.Rows[0].Take.Age != 8 || l.Rows[0].Take.Division != "junior" {
			t.Errorf("%s: %+v", path, l.Rows[0].Take)
		}
	}
}

func TestHeadsInAnyOrderAndWords(t *testing.T) {
	text := "Nachname\tVorname\tGeburtstag\tHobby\nLantern\tKit\t2.5.2018\tswimming\nPuffin\tKim\t\t\n"
	table, faults := entrytable.Read(text)
	l := entrytable.Look(meetOf(), entrytable.Asked{Table: table, Division: "open", ID: id})
	if len(faults) > 0 || !l.Good() {
		t.Fatalf("%v %+v", faults, l)
	}
	if len(l.Notes) != 1 || l.Notes[0].Column != 4 || l.Notes[0].Why.Code != "table-head-unknown" {
		t.Errorf("the unknown column is not said: %v", l.Notes)
	}
	for i, want := range []entrytable.Entry{{Number: 8, Name: "Kit Lantern", Birth: "2018-05-02"}, {Number: 9, Name: "Kim Puffin"}} {
		if diff := cmp.Diff(want, l.Rows[i].Entry); diff != "" {
			t.Errorf("(-want +got):\n%s", diff)
		}
	}
	if l.Rows[1].Take.Age != -1 {
		t.Errorf("an age of nobody knows when: %d", l.Rows[1].Take.Age)
	}
}

// Whoever the club knows stays one person; without a date of birth nobody is taken for
// somebody else.
func TestKnownPeople(t *testing.T) {
	table, _ := entrytable.Read("Name;Date of birth;Division\nkit known;1.1.2018;Open\nKit Known;;Open\n")
	l := entrytable.Look(meetOf(), entrytable.Asked{Table: table, Known: known, ID: id})
	if !l.Good() || !l.Rows[0].Known || l.Rows[0].Take.Entrant != "known" || l.Rows[1].Known || l.Rows[1].Take.Entrant == "known" {
		t.Errorf("%+v", l.Rows)
	}
	table, _ = entrytable.Read("Name;Date of birth;Division\nKit Known;1.1.2018;Open\n")
	l = entrytable.Look(meetOf(), entrytable.Asked{Table: table, Known: append(known, entrytable.Person{
		ID: "other", Name: "Kit Known", Birth: "2018-01-01",
	}), ID: id})
	if l.Rows[0].Known {
		t.Error("of two people one was chosen")
	}
}

// A younger child races up, which is said and no mistake.
func TestRacingUpIsSaid(t *testing.T) {
	table, _ := entrytable.Read("Name;Date of birth;Division\nKit Lantern;1.1.2024;Juniors\n")
	l := entrytable.Look(meetOf(), entrytable.Asked{Table: table, ID: id})
	if !l.Good() || !l.Rows[0].Races.RacesUp {
		t.Errorf("%+v", l.Rows)
	}
}

// Many mistakes are all said at once.
func TestAllMistakesAreSaid(t *testing.T) {
	table, _ := entrytable.Read("Number;Name;Date of birth;Division\n7;;31.02.2018;Nowhere\n1;Kit;2018-05-02;Juniors\n")
	l := entrytable.Look(meetOf(), entrytable.Asked{Table: table, ID: id})
	var codes []string
	for _, f := range l.Rows[0].Faults {
		codes = append(codes, fmt.Sprint(f.Column, f.Why.Code))
	}
	want := "[3table-no-such-day 2table-name-empty 1table-number-taken 4table-division]"
	if fmt.Sprint(codes) != want || len(l.Rows[1].Faults) > 0 {
		t.Errorf("%v, wanted %s", codes, want)
	}
}

// A cell that a spreadsheet would run goes out guarded and comes back as it was.
func TestDefused(t *testing.T) {
	for cell, want := range map[string]string{
		"=1+1": "'=1+1", "+49 30": "'+49 30", "-cmd": "'-cmd", "@x": "'@x", "\tx": "'\tx", "\rx": "'\rx", "\nx": "'\nx",
		"＝1": "'＝1", "-3": "-3", "-3.5": "-3.5", "-3,5": "-3,5", "-3+1": "'-3+1", "+3": "'+3", "'=x": "''=x", "'x": "'x",
		"Kit": "Kit", "": "", "'": "'", "'-3": "''-3", "Kit-Kim": "Kit-Kim", "2018-05-02": "2018-05-02",
		"a;=1": "a;'=1", "a, -b": "a, '-b", `a"=1"`: `a"'=1"`, " =1": " '=1", "'\t=x": "''\t'=x", "a;-3;'@": "a;'-3;''@",
	} {
		if got := entrytable.Defused(cell); got != want {
			t.Errorf("%q goes out as %q, wanted %q", cell, got, want)
		}
		if back := entrytable.Undefused(entrytable.Defused(cell)); back != cell {
			t.Errorf("%q comes back as %q", cell, back)
		}
	}
}

// FuzzRead: no text makes the reader fail, and every mistake has a place.
func FuzzRead(f *testing.F) {
	for _, path := range []string{"broken", "good"} {
		files, _ := filepath.Glob("testdata/" + path + "/*.csv")
		for _, file := range files {
			bytes, err := os.ReadFile(file)
			if err != nil {
				f.Fatal(err)
			}
			f.Add(bytes)
		}
	}
	f.Fuzz(func(t *testing.T, file []byte) {
		text, _, no := entrytable.Decode(file)
		if no != nil {
			if no.Line < 1 || no.Column < 1 {
				t.Fatalf("no place: %+v", no)
			}
			return
		}
		table, faults := entrytable.Read(text)
		l := entrytable.Look(meetOf(), entrytable.Asked{Table: table, Known: known, ID: id})
		for _, r := range l.Rows {
			faults = append(faults, r.Faults...)
		}
		for _, one := range append(faults, l.Faults...) {
			if one.Line < 1 || one.Column < 1 {
				t.Fatalf("no place: %+v", one)
			}
		}
		if len(faults) == 0 && len(l.Faults) == 0 && !l.Good() {
			t.Fatal("neither mistakes nor rows")
		}
	})
}

var number = regexp.MustCompile(`^-\d+([.,]\d+)?$`)

// FuzzDefused: whatever a cell holds, it comes back as it was, and no part of it that some
// spreadsheet parts off begins like a formula.
func FuzzDefused(f *testing.F) {
	for _, cell := range []string{"=1", "'=1", "a;=1", "\t=1", "''\t'=x", `"-1"`, "-3,5", ",-3,5", "-3;-3,=", "  =x"} {
		f.Add(cell)
	}
	f.Fuzz(func(t *testing.T, cell string) {
		out := entrytable.Defused(cell)
		if back := entrytable.Undefused(out); back != cell {
			t.Fatalf("%q went out as %q and comes back as %q", cell, out, back)
		}
		for _, separator := range []string{";", ",", "\t", "\n"} {
			for part := range strings.SplitSeq(out, separator) {
				part = strings.TrimLeft(part, ` "`)
				if part == "" || !strings.Contains("=+-@", part[:1]) {
					continue
				}
				if out != cell || !number.MatchString(cell) {
					t.Fatalf("%q went out as %q, which runs from %q", cell, out, part)
				}
			}
		}
	})
}
