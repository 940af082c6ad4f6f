package entrytable

import (
	"regexp"
	"strings"
)

// guard stands before what a spreadsheet would take for a formula; spreadsheets take it
// for the sign that text follows.
const guard = "'"

// plainNumber is what may stand as it is though it begins with a sign.
var plainNumber = regexp.MustCompile(`^-?[0-9]+([.,][0-9]+)?$`)

// Defused is a cell that no spreadsheet runs: what begins with = + - @ or their
// full-width forms gets an apostrophe before it, and so does a cell that begins with a tab
// or a line break. A number stays a number: -3 is no formula. Within a cell the same holds
// behind each separator and quotation mark, because a spreadsheet of another country parts
// the cells at another sign. Undefused takes all of them away again.
//
// Which beginnings are meant: OWASP, "CSV Injection".
func Defused(cell string) string {
	if plainNumber.MatchString(cell) {
		return cell
	}
	cell = eachPart(cell, func(part string) string {
		if runs(part) {
			return guard + part
		}
		return part
	})
	if breaks(cell) {
		return guard + cell
	}
	return cell
}

// Undefused is the cell that Defused was given.
func Undefused(cell string) string {
	if rest, guarded := strings.CutPrefix(cell, guard); guarded && breaks(rest) {
		cell = rest
	}
	return eachPart(cell, func(part string) string {
		if rest, guarded := strings.CutPrefix(part, guard); guarded && runs(rest) {
			return rest
		}
		return part
	})
}

// eachPart changes what stands between the signs of a cell at which some spreadsheet may
// part it, without the blanks before it.
func eachPart(cell string, change func(string) string) string {
	var out strings.Builder
	for len(cell) > 0 {
		begin := strings.TrimLeft(cell, " ;,\t\r\n\"")
		out.WriteString(cell[:len(cell)-len(begin)])
		end := strings.IndexAny(begin, ";,\t\r\n\"")
		if end < 0 {
			end = len(begin)
		}
		out.WriteString(change(begin[:end]))
		cell = begin[end:]
	}
	return out.String()
}

// runs says whether a part needs a guard. One that begins with guards and would need one
// without them needs one more, so that taking one away gives it back.
func runs(part string) bool {
	first := []rune(strings.TrimLeft(part, guard))
	return len(first) > 0 && strings.ContainsRune("=+-@＝＋－＠", first[0])
}

// breaks says whether a cell begins with a tab or a line break, behind guards.
func breaks(cell string) bool {
	bare := strings.TrimLeft(cell, guard)
	return bare != "" && strings.Contains("\t\r\n", bare[:1])
}
