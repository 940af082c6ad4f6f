package entrytable

import (
	"bytes"
	"encoding/csv"
)

// Write writes a table by RFC 4180 for spreadsheets: in UTF-8 with a byte order mark,
// separated by commas, each cell defused.
func Write(heads []string, rows [][]string) []byte {
	var out bytes.Buffer
	out.WriteString(mark)
	w := csv.NewWriter(&out)
	w.UseCRLF = true
	for _, row := range append([][]string{heads}, rows...) {
		cells := make([]string, len(row))
		for i, cell := range row {
			cells[i] = Defused(cell)
		}
		_ = w.Write(cells) // a buffer takes everything
	}
	w.Flush()
	return out.Bytes()
}
