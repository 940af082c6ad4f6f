package entrytable

import (
	"encoding/csv"
	"errors"
	"io"
	"slices"
	"strings"
)

// What a table may have. A day has at most a few hundred children.
const (
	MaxRows    = 400
	MaxColumns = 40
)

// Table is a table as it was read, before anybody asks what its cells mean.
type Table struct {
	HeadLine int // the line of the heads
	Heads    []string
	Rows     []Row
}

// Row is one line of a table. It may have fewer cells than there are heads, or more.
type Row struct {
	Line  int
	Cells []string
}

// separators are tried in this order; what reads most heads wins.
var separators = []byte{';', ',', '\t'}

// Read reads a table from text. Faults are what keeps it from being read to its end: rows
// from there on are missing.
func Read(text string) (Table, []Fault) {
	text = strings.ReplaceAll(strings.ReplaceAll(strings.TrimPrefix(text, mark), "\r\n", "\n"), "\r", "\n")
	if strings.TrimSpace(text) == "" {
		return Table{}, []Fault{fault(1, 1, "table-empty")}
	}
	separator := separatorOf(text)
	records, stopped := readAll(text, separator)
	var t Table
	var faults []Fault
	for i, r := range records {
		switch {
		case i == 0:
			t.HeadLine, t.Heads = r.Line, r.Cells
		case len(t.Rows) == MaxRows:
			faults = append(faults, fault(r.Line, 1, "table-rows", "most", MaxRows, "rows", len(records)-1))
		}
		if i > 0 && len(t.Rows) < MaxRows {
			t.Rows = append(t.Rows, r)
		}
		if len(faults) > 0 {
			break
		}
	}
	if n := len(t.Heads); n > MaxColumns {
		faults = append(faults, fault(t.HeadLine, MaxColumns+1, "table-columns", "most", MaxColumns, "columns", n))
	}
	if mixed := mixedHeads(t, separator); mixed != nil {
		faults, t.Rows = append(faults, mixed...), nil // their cells are not what they seem
	}
	if stopped != nil {
		faults = append(faults, *stopped)
	}
	if len(faults) == 0 && len(t.Rows) == 0 {
		faults = append(faults, fault(t.HeadLine+1, 1, "table-no-rows"))
	}
	return t, faults
}

// readAll reads lines that are not blank, up to a place that cannot be read.
func readAll(text string, separator byte) (rows []Row, stopped *Fault) {
	r := csv.NewReader(strings.NewReader(text))
	r.Comma, r.FieldsPerRecord = rune(separator), -1
	r.TrimLeadingSpace = separator != '\t' // a tab would be trimmed as a blank
	before := int64(0)
	for {
		cells, err := r.Read()
		if errors.Is(err, io.EOF) {
			return rows, nil
		}
		if err != nil {
			f := unreadable(text, before, separator, err)
			return rows, &f
		}
		before = r.InputOffset()
		line, _ := r.FieldPos(0)
		if slices.ContainsFunc(cells, func(c string) bool { return strings.TrimSpace(c) != "" }) {
			rows = append(rows, Row{line, cells})
		}
	}
}

// unreadable names the place of a quotation mark that cannot be: the one that nobody
// closed where the text ends within quotes, else the one that stands wrongly.
func unreadable(text string, before int64, separator byte, err error) Fault {
	var parse *csv.ParseError
	if !errors.As(err, &parse) {
		return fault(1, 1, "table-quote-inside")
	}
	if at, open := openQuote(text[before:]); open && errors.Is(parse.Err, csv.ErrQuote) {
		ends := offsetOf(text, parse.Line, parse.Column) >= len(strings.TrimRight(text, "\n"))
		if line, column := placeOf(text, int(before)+at, separator); ends {
			return fault(line, column, "table-quote-open")
		}
	}
	line, column := placeOf(text, offsetOf(text, parse.Line, parse.Column), separator)
	return fault(line, column, "table-quote-inside")
}

// offsetOf is where a line and a byte of it, both from 1, stand in a text.
func offsetOf(text string, line, column int) int {
	at := 0
	for range line - 1 {
		next := strings.IndexByte(text[at:], '\n')
		if next < 0 {
			break
		}
		at += next + 1
	}
	return min(at+max(column-1, 0), len(text))
}

// separatorOf finds what parts the cells: what reads most known heads in the first line
// that is not blank, and else what parts it most often.
func separatorOf(text string) byte {
	best, bestKnown, bestCells := separators[0], -1, -1
	for _, s := range separators {
		known, cells := headsBy(text, s)
		if known > bestKnown || known == bestKnown && cells > bestCells {
			best, bestKnown, bestCells = s, known, cells
		}
	}
	return best
}

// headsBy counts the known heads and the cells of the first line under a separator.
func headsBy(text string, separator byte) (known, cells int) {
	first, _, _ := strings.Cut(strings.TrimLeft(text, " \r\n"), "\n")
	r := csv.NewReader(strings.NewReader(first))
	r.Comma, r.LazyQuotes, r.TrimLeadingSpace = rune(separator), true, separator != '\t'
	heads, err := r.Read()
	if err != nil {
		return 0, 0
	}
	for _, h := range heads {
		if MeaningOf(h) != "" {
			known++
		}
	}
	return known, len(heads)
}

// mixedHeads finds a head that holds another separator between heads that are known.
func mixedHeads(t Table, separator byte) []Fault {
	for i, head := range t.Heads {
		for _, other := range separators {
			if other == separator || MeaningOf(head) != "" {
				continue
			}
			parts := strings.Split(head, string(other))
			known := slices.ContainsFunc(parts, func(p string) bool { return MeaningOf(p) != "" })
			if len(parts) > 1 && known {
				return []Fault{fault(t.HeadLine, i+1, "table-separators", "separator", nameOf(separator), "other", nameOf(other))}
			}
		}
	}
	return nil
}

// nameOf is the sign as a sentence shows it.
func nameOf(separator byte) string {
	if separator == '\t' {
		return "Tab"
	}
	return string(separator)
}
