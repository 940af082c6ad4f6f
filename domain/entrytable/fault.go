package entrytable

import (
	"strings"
	"unicode/utf8"

	"benchmeet/domain/refusal"
)

// Fault is a mistake at one place of a table.
type Fault struct {
	// Line is the line of the file, from 1; a cell that holds line breaks counts them.
	Line int
	// Column is the cell of the line, from 1, as a spreadsheet counts columns.
	Column int
	Why    *refusal.Refusal
}

func fault(line, column int, code refusal.Code, pairs ...any) Fault {
	return Fault{line, column, refusal.New(code, pairs...)}
}

// placeOf is the line and the cell in which the byte at an offset stands. It goes by
// quotation marks alone, so that it finds places in text that no reader takes.
func placeOf(text string, offset int, separator byte) (line, column int) {
	line, column = 1, 1
	quoted := false
	for i := range min(offset, len(text)) {
		switch c := text[i]; {
		case c == '"':
			quoted = !quoted
		case c == '\n':
			line++
			if !quoted {
				column = 1
			}
		case c == separator && !quoted:
			column++
		}
	}
	return line, column
}

// openQuote is the offset of the quotation mark that is open at the end of a text, or
// false where none is.
func openQuote(text string) (int, bool) {
	at, open := 0, false
	for i := range len(text) {
		if text[i] == '"' {
			at, open = i, !open
		}
	}
	return at, open
}

// short shortens what stands in a cell for a sentence about it.
func short(cell string) string {
	const most = 40
	cell = strings.Join(strings.Fields(cell), " ")
	if utf8.RuneCountInString(cell) <= most {
		return cell
	}
	return string([]rune(cell)[:most]) + "…"
}
