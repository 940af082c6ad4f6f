package sqlite

import (
	"context"
	"database/sql"
	"errors"

	"benchmeet/api/store"
	"benchmeet/domain/journal"
)

// connection is the writer's, with the statements that it has prepared: reading one anew
// takes SQLite about as long as carrying it out. Only texts that stand in the program
// come here, so they are few.
type connection struct {
	*sql.Conn
	prepared map[string]*sql.Stmt
	heads    map[store.Stream]journal.Head // of logs, as its transaction has them; see head
}

func newConnection(conn *sql.Conn) *connection {
	return &connection{Conn: conn, prepared: map[string]*sql.Stmt{}, heads: map[store.Stream]journal.Head{}}
}

// mostHeads is how many heads are kept: more logs than are written to at once.
const mostHeads = 1024

// head is where a log ends. It is looked up once, for nobody else writes to the file.
func (c *connection) head(ctx context.Context, stream store.Stream) (journal.Head, error) {
	if head, known := c.heads[stream]; known {
		return head, nil
	}
	head, err := headOf(ctx, c, stream)
	if err == nil {
		c.ends(stream, head)
	}
	return head, err
}

// ends notes where a log ends now.
func (c *connection) ends(stream store.Stream, head journal.Head) {
	if len(c.heads) >= mostHeads {
		clear(c.heads)
	}
	c.heads[stream] = head
}

// forget is for what was undone.
func (c *connection) forget() { clear(c.heads) }

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
