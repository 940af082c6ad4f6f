package postgres

import (
	"context"
	"errors"
	"fmt"
	"time"

	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgconn"
	"github.com/jackc/pgx/v5/pgxpool"

	"benchmeet/api/store"
)

// questionWithin is how long the answer to one question may take. The way to the database
// may swallow what is sent without a word, and who asks may be ready to wait for ever.
const questionWithin = 10 * time.Second

// pool are connections whose questions are not waited for without end. Its transactions go
// by the patience of those who began them.
type pool struct{ *pgxpool.Pool }

// Exec is pgxpool's.
func (p pool) Exec(ctx context.Context, query string, args ...any) (tag pgconn.CommandTag, err error) {
	err = within(ctx, func(ctx context.Context) error {
		tag, err = p.Pool.Exec(ctx, query, args...)
		return err
	})
	return tag, err
}

// QueryRow is pgxpool's.
func (p pool) QueryRow(ctx context.Context, query string, args ...any) pgx.Row {
	return asked(func(into []any) error {
		return within(ctx, func(ctx context.Context) error { return p.Pool.QueryRow(ctx, query, args...).Scan(into...) })
	})
}

// asked is a question that is asked when its answer is wanted.
type asked func(into []any) error

// Scan implements pgx.Row.
func (a asked) Scan(into ...any) error { return a(into) }

// within asks a question; one that takes too long means that the database is away.
func within(ctx context.Context, ask func(context.Context) error) error {
	asking, stop := context.WithTimeout(ctx, questionWithin)
	defer stop()
	err := ask(asking)
	if err != nil && ctx.Err() == nil && errors.Is(asking.Err(), context.DeadlineExceeded) {
		return fmt.Errorf("%w (no answer within %s: %w)", store.ErrAway, questionWithin, err)
	}
	return err
}
