package club

import (
	"strings"
	"time"
	"unicode"

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

// Check refuses names that nobody can read, or that change how what stands beside them
// is shown, and births on no day of the calendar, before 1900 or after today. Today is
// that of the place that is furthest ahead of UTC.
func (w Written) Check(nowUS int64) error {
	for _, one := range []struct {
		text  string
		empty bool
	}{{w.Name, false}, {w.DisplayName, true}, {w.SayAs, true}} {
		if strings.ContainsFunc(one.text, turns) {
			return refusal.New("name-odd")
		}
		if !strings.ContainsFunc(one.text, seen) && !(one.empty && one.text == "") {
			return refusal.New("name-blank")
		}
	}
	if w.Born == "" {
		return nil
	}
	born, err := time.Parse(time.DateOnly, w.Born)
	if err != nil || born.Year() < firstBirth || born.After(time.UnixMicro(nowUS).Add(14*time.Hour)) {
		return refusal.New("birth-no-date", "date", w.Born)
	}
	return nil
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
