package sqlite

import (
	"context"
	"database/sql"
	"sync"
)

// asked are the questions that every request asks, prepared at the first time: reading one
// anew takes SQLite longer than answering it. Only texts that stand in the program come
// here, so they are few; they are closed with the connections that they stand on.
type asked struct {
	of       *sql.DB
	prepared sync.Map // text to *sql.Stmt
}

// row is the one row of an answer.
func (a *asked) row(ctx context.Context, text string, args ...any) *sql.Row {
	s, known := a.prepared.Load(text)
	if !known {
		fresh, err := a.of.PrepareContext(ctx, text) //nolint:sqlclosecheck // see asked
		if err != nil {
			return a.of.QueryRowContext(ctx, text, args...) // says it at the scan
		}
		var other bool
		if s, other = a.prepared.LoadOrStore(text, fresh); other {
			_ = fresh.Close() //nolint:sqlclosecheck // two were first
		}
	}
	return s.(*sql.Stmt).QueryRowContext(ctx, args...)
}
