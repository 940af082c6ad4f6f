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

func (a *asked) prepare(ctx context.Context, text string) (*sql.Stmt, error) {
	if s, known := a.prepared.Load(text); known {
		return s.(*sql.Stmt), nil
	}
	fresh, err := a.of.PrepareContext(ctx, text) //nolint:sqlclosecheck // see asked
	if err != nil {
		return nil, err
	}
	s, other := a.prepared.LoadOrStore(text, fresh)
	if other {
		_ = fresh.Close() //nolint:sqlclosecheck // two were first
	}
	return s.(*sql.Stmt), nil
}

// row is the one row of an answer.
func (a *asked) row(ctx context.Context, text string, args ...any) *sql.Row {
	s, err := a.prepare(ctx, text) //nolint:sqlclosecheck // see asked
	if err != nil {
		return a.of.QueryRowContext(ctx, text, args...) // says it at the scan
	}
	return s.QueryRowContext(ctx, args...)
}

// QueryContext is that of sql.DB.
func (a *asked) QueryContext(ctx context.Context, text string, args ...any) (*sql.Rows, error) {
	s, err := a.prepare(ctx, text) //nolint:sqlclosecheck // see asked
	if err != nil {
		return nil, err
	}
	return s.QueryContext(ctx, args...)
}
