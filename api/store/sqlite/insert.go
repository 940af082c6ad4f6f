package sqlite

import (
	"context"
	"slices"
	"strings"
)

// Many rows go in by statements of so many, which cost less than as many statements; the
// sizes are few, so that each is prepared once.
var insertSizes = []int{32, 8, 1}

// insertion is an INSERT of rows of some columns: its text up to the values, and after
// them.
type insertion struct {
	into    string
	columns int
	end     string
	texts   map[int]string // by the number of rows
}

func newInsertion(into string, columns int, end string) insertion {
	row := "(" + strings.Repeat("?, ", columns-1) + "?)"
	i := insertion{into, columns, end, map[int]string{}}
	for _, n := range insertSizes {
		i.texts[n] = into + " VALUES " + strings.Repeat(row+", ", n-1) + row + " " + end
	}
	return i
}

// run puts rows in, given as the values of all of them in a row, and says how many were
// added.
func (i insertion) run(ctx context.Context, conn *connection, values []any) (added int64, err error) {
	for _, n := range insertSizes {
		for len(values) >= n*i.columns {
			now, err := exec(ctx, conn, i.texts[n], values[:n*i.columns]...)
			if err != nil {
				return added, err
			}
			added, values = added+now, values[n*i.columns:]
		}
	}
	return added, nil
}

var insertEvents = newInsertion(`INSERT INTO events (club_id, stream, seq, bytes, hash)`, 5, ``)

var insertAnswers = newInsertion(`INSERT INTO answers (club_id, stream, command, content, body)`, 5, `ON CONFLICT DO NOTHING`)

// grown is a slice for so many values more.
func grown(rows, columns int) []any { return slices.Grow([]any(nil), rows*columns) }
