package sqlite

import (
	"context"
	"database/sql"
	"errors"
)

// connection is the writer's, with the statements that it has prepared: reading one anew
// takes SQLite about as long as carrying it out. Only texts that stand in the program
// come here, so they are few.
type connection struct {
	*sql.Conn
	prepared map[string]*sql.Stmt
}

func newConnection(conn *sql.Conn) *connection {
	return &connection{Conn: conn, prepared: map[string]*sql.Stmt{}}
}

// prepare prepares a text, at the first time.
func (c *connection) prepare(ctx context.Context, text string) error {
	if c.prepared[text] != nil {
		return nil
	}
	s, err := c.PrepareContext(ctx, text) //nolint:sqlclosecheck // Close closes all
	if err == nil {
		c.prepared[text] = s
	}
	return err
}

// ExecContext is that of sql.Conn.
func (c *connection) ExecContext(ctx context.Context, text string, args ...any) (sql.Result, error) {
	if err := c.prepare(ctx, text); err != nil {
		return nil, err
	}
	return c.prepared[text].ExecContext(ctx, args...)
}

// QueryContext is that of sql.Conn.
func (c *connection) QueryContext(ctx context.Context, text string, args ...any) (*sql.Rows, error) {
	if err := c.prepare(ctx, text); err != nil {
		return nil, err
	}
	return c.prepared[text].QueryContext(ctx, args...)
}

// QueryRowContext is that of sql.Conn.
func (c *connection) QueryRowContext(ctx context.Context, text string, args ...any) *sql.Row {
	if c.prepare(ctx, text) != nil {
		return c.Conn.QueryRowContext(ctx, text, args...) // says it at the scan
	}
	return c.prepared[text].QueryRowContext(ctx, args...)
}

// Close gives the statements and the connection back.
func (c *connection) Close() error {
	var all error
	for _, s := range c.prepared {
		all = errors.Join(all, s.Close())
	}
	return errors.Join(all, c.Conn.Close())
}
