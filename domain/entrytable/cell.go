package entrytable

import (
	"regexp"
	"strconv"
	"strings"
	"time"

	"benchmeet/domain/day"
	"benchmeet/domain/refusal"
)

// textOf is a cell as text: without blanks around it, blanks and line breaks within it
// as one blank, and without the mark that kept it from running as a formula.
func textOf(cell string) string {
	return strings.Join(strings.Fields(Undefused(strings.TrimLeft(cell, " "))), " ")
}

var (
	dayFirst  = regexp.MustCompile(`^(\d{1,2})\. ?(\d{1,2})\. ?(\d{4})$`)
	yearFirst = regexp.MustCompile(`^(\d{4})-(\d{1,2})-(\d{1,2})$`)
)

// dateOf reads day.month.year or year-month-day and writes it as YYYY-MM-DD. Other forms
// are asked back: 03/04/2017 is two days, and 17 is two years.
func dateOf(text string) (string, *refusal.Refusal) {
	var y, m, d string
	if p := dayFirst.FindStringSubmatch(text); p != nil {
		y, m, d = p[3], p[2], p[1]
	} else if p := yearFirst.FindStringSubmatch(text); p != nil {
		y, m, d = p[1], p[2], p[3]
	} else {
		return "", refusal.New("table-date", "cell", short(text))
	}
	date := y + "-" + pad(m) + "-" + pad(d)
	if _, err := time.Parse(time.DateOnly, date); err != nil {
		return "", refusal.New("table-no-such-day", "cell", short(text))
	}
	return date, nil
}

func pad(digits string) string {
	if len(digits) == 1 {
		return "0" + digits
	}
	return digits
}

// numberOf reads a start number.
func numberOf(text string) (int, *refusal.Refusal) {
	n, err := strconv.Atoi(text)
	if err != nil || n < 1 || n > day.MaxStartNumber || strings.HasPrefix(text, "+") {
		return 0, refusal.New("table-number", "cell", short(text), "most", day.MaxStartNumber)
	}
	return n, nil
}

const (
	yes = " yes y true 1 x ja j wahr ✓ "
	no  = " no n false 0 - – nein falsch "
)

// yesOf reads an answer in words; an empty cell is a no, for a guardian says yes.
func yesOf(text string) (bool, *refusal.Refusal) {
	word := " " + strings.ToLower(text) + " "
	switch {
	case text == "" || strings.Contains(no, word):
		return false, nil
	case strings.Contains(yes, word):
		return true, nil
	}
	return false, refusal.New("table-yes-no", "cell", short(text))
}

// consentsOf reads which of the three a guardian agrees to. "Yes" alone is asked back:
// each is agreed to apart.
func consentsOf(text string) (screen, results, photo bool, _ *refusal.Refusal) {
	words := strings.FieldsFunc(strings.ToLower(text), func(r rune) bool { return strings.ContainsRune(",;/+&| ", r) })
	for _, w := range words {
		switch MeaningOf(w) {
		case OnScreen:
			screen = true
		case InResults:
			results = true
		case Photo:
			photo = true
		default:
			if !strings.Contains(no+"none keine and und ", " "+w+" ") {
				return false, false, false, refusal.New("table-consents", "cell", short(text))
			}
		}
	}
	return screen, results, photo, nil
}
