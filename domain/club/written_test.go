package club_test

import (
	"strings"
	"testing"

	"benchmeet/domain/club"
	"benchmeet/domain/refusal"
)

// A name shows something and only itself; a birth is a day of the calendar that somebody
// alive can have been born on.
func TestWhatIsWrittenOfAPerson(t *testing.T) {
	const now = 1_800_000_000_000_000 // 15 January 2027, 08:00 UTC
	name := func(n string) club.Written { return club.Written{Name: n} }
	born := func(b string) club.Written { return club.Written{Name: "Ida", Born: b} }
	for _, tt := range []struct {
		name string
		of   club.Written
		code refusal.Code
	}{
		{"a name", name("Ida O’Quay-Müller"), ""},
		{"another script", name("عائشة"), ""},
		{"joined by what has no width", name("می\u200cخواهم"), ""},
		{"a pictogram of several", name("👩\u200d🚀"), ""},
		{"a backslash and u0000", name(`\u0000`), ""},
		{"no name", name(""), "name-blank"},
		{"blanks", name("  \u00a0\u3000"), "name-blank"},
		{"without width", name("\u200b\u200d\ufeff"), "name-blank"},
		{"an accent of nothing", name("\u0301"), "name-blank"},
		{"letters that are drawn as nothing", name("\u3164\u2800"), "name-blank"},
		{"two lines", name("Ida\nOfficial"), "name-odd"},
		{"another end of a line", name("Ida\u2028Official"), "name-odd"},
		{"a tabulator", name("Ida\tQuay"), "name-odd"},
		{"an escape", name("Ida\x1b[2J"), "name-odd"},
		{"a late control character", name("Ida\u009b"), "name-odd"},
		{"right to left from here", name("Ida\u202e"), "name-odd"},
		{"apart", name("Ida\u2067"), "name-odd"},
		{"a nickname that turns", club.Written{Name: "Ida", DisplayName: "x\u202dy"}, "name-odd"},
		{"a blank nickname", club.Written{Name: "Ida", DisplayName: " "}, "name-blank"},
		{"said as nothing", club.Written{Name: "Ida", SayAs: "\u200b"}, "name-blank"},
		{"as long as may be", name(strings.Repeat("ß", 100)), ""},
		{"longer", name(strings.Repeat("ß", 101)), "name-long"},
		{"a longer nickname", club.Written{Name: "Ida", DisplayName: strings.Repeat("ß", 41)}, "name-long"},
		{"longer to say", club.Written{Name: "Ida", SayAs: strings.Repeat("ß", 101)}, "name-long"},
		{"half a character", name("Ida\xc3"), "name-odd"},
		{"a birth", born("2016-02-29"), ""},
		{"today", born("2027-01-15"), ""},
		{"the first day", born("1900-01-01"), ""},
		{"the day before", born("1899-12-31"), "birth-no-date"},
		{"later than anywhere", born("2027-01-17"), "birth-no-date"},
		{"no such day", born("2015-02-29"), "birth-no-date"},
		{"no such month", born("2015-99-99"), "birth-no-date"},
		{"zeros", born("0000-00-00"), "birth-no-date"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			var code refusal.Code
			if no, is := refusal.As(tt.of.Check(now)); is {
				code = no.Code
			}
			if code != tt.code {
				t.Errorf("%+q: %q, want %q", tt.of, code, tt.code)
			}
		})
	}
}
