package club

import (
	"strings"
	"time"
	"unicode"
	"unicode/utf8"

	"benchmeet/domain/refusal"
)

// Written is what is written down of a person. It is checked here and kept outside the
// log: no event holds any of it.
type Written struct {
	Name        string
	DisplayName string // may be empty
	SayAs       string // may be empty
	Born        string // YYYY-MM-DD, or empty
}

// firstBirth is the first year of birth of somebody who can come to a meet.
const firstBirth = 1900

// Field is one of the texts of Written.
type Field string

// The fields.
const (
	Name        Field = "name"
	DisplayName Field = "display-name"
	SayAs       Field = "say-as"
	Born        Field = "born"
)

// most is how many characters each may have, as the contract has it for forms.
var most = map[Field]int{Name: 100, DisplayName: 40, SayAs: 100}

// AnyDay is later than any meet, in µs since 1970-01-01 UTC: how late somebody who is
// entered may be born follows from the day of the meet.
const AnyDay = 32_503_680_000_000_000

// WrittenFault is why one field cannot be written down.
type WrittenFault struct {
	Field Field
	Why   *refusal.Refusal
}

// Check refuses what Faults finds first.
func (w Written) Check(nowUS int64) error {
	if faults := w.Faults(nowUS); len(faults) > 0 {
		return faults[0].Why
	}
	return nil
}

// Faults are names that nobody can read, that are too long, or that change how what
// stands beside them is shown, and births on no day of the calendar, before 1900 or
// after today. Today is that of the place that is furthest ahead of UTC. It is the one
// rule for forms and tables alike; each field has one fault at most.
func (w Written) Faults(nowUS int64) (out []WrittenFault) {
	for _, one := range []struct {
		field Field
		text  string
	}{{Name, w.Name}, {DisplayName, w.DisplayName}, {SayAs, w.SayAs}} {
		length := utf8.RuneCountInString(one.text)
		switch {
		case one.text == "" && one.field != Name:
		case !utf8.ValidString(one.text) || strings.ContainsFunc(one.text, turns):
			out = append(out, WrittenFault{one.field, refusal.New("name-odd")})
		case !strings.ContainsFunc(one.text, seen):
			out = append(out, WrittenFault{one.field, refusal.New("name-blank")})
		case length > most[one.field]:
			out = append(out, WrittenFault{one.field, refusal.New("name-long", "most", most[one.field], "length", length)})
		}
	}
	if w.Born == "" {
		return out
	}
	born, err := time.Parse(time.DateOnly, w.Born)
	if err != nil || born.Year() < firstBirth || born.After(time.UnixMicro(nowUS).Add(14*time.Hour)) {
		out = append(out, WrittenFault{Born, refusal.New("birth-no-date", "date", w.Born)})
	}
	return out
}

// turns says whether a character is a control character, breaks a line, or sets the
// direction of what stands behind it (Unicode Standard Annex 9, explicit formatting).
func turns(r rune) bool {
	return unicode.In(r, unicode.Cc, unicode.Zl, unicode.Zp) || r >= 0x202A && r <= 0x202E || r >= 0x2066 && r <= 0x2069
}

// seen says whether a character shows something by itself.
func seen(r rune) bool {
	switch r {
	case 0x115F, 0x1160, 0x3164, 0xFFA0, 0x2800: // letters and a pattern that are drawn as nothing
		return false
	}
	return unicode.In(r, unicode.L, unicode.N, unicode.P, unicode.S)
}
