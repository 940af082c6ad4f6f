package postgres

import (
	"context"
	"errors"
	"fmt"
	"time"

	"github.com/jackc/pgerrcode"
	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgconn"

	"benchmeet/api/store"
)

// servers are those that share the database.
type servers struct{ in *Store }

var (
	_ store.Fleet   = (*Store)(nil)
	_ store.FleetTx = (*tx)(nil)
)

// A server that comes in waits for the writes that go on, and whoever begins to write
// meanwhile waits behind it: not for long at a time, and again after a pause.
const (
	enterWithin = "500ms"
	enterPause  = 100 * time.Millisecond
)

// EnterServer implements store.Fleet.
func (s servers) EnterServer(ctx context.Context, one store.Server) error {
	for {
		err := s.enter(ctx, one)
		if err == nil {
			return nil
		}
		var refused *pgconn.PgError
		if !errors.As(err, &refused) || refused.Code != pgerrcode.LockNotAvailable {
			return fmt.Errorf("postgres: enter server %s: %w", one.ID, plain(err))
		}
		select {
		case <-ctx.Done():
			return fmt.Errorf("postgres: enter server %s: others do not finish writing: %w", one.ID, ctx.Err())
		case <-time.After(enterPause):
		}
	}
}

func (s servers) enter(ctx context.Context, one store.Server) error {
	return pgx.BeginFunc(ctx, s.in.pool, func(t pgx.Tx) error {
		if _, err := t.Exec(ctx, `SET LOCAL lock_timeout = '`+enterWithin+`'`); err != nil {
			return err
		}
		if _, err := t.Exec(ctx, `SELECT pg_advisory_xact_lock($1)`, fleetLock); err != nil {
			return err
		}
		if _, err := t.Exec(ctx, `UPDATE fleet SET epoch = epoch + 1`); err != nil {
			return err
		}
		_, err := t.Exec(ctx, `
			INSERT INTO servers (
				server,
				beat,
				reads
			)
			VALUES ($1, $2, $3)
			ON CONFLICT (server) DO UPDATE SET
				beat = servers.beat + 1,
				reads = excluded.reads`,
			one.ID, one.Beat, one.Reads)
		return err
	})
}

// BeatServer implements store.Fleet. Nobody waits for the disk: a beat that is lost is a
// beat that was not made.
func (s servers) BeatServer(ctx context.Context, id string) (store.Servers, error) {
	ctx, stop := context.WithTimeout(ctx, questionWithin)
	defer stop()
	var all pgx.Batch
	all.Queue(asyncCommit)
	all.Queue(`
		UPDATE servers
		SET beat = beat + 1
		WHERE server = $1`,
		id)
	all.Queue(serversQuery)
	sent := s.in.pool.SendBatch(ctx, &all)
	_, err := sent.Exec()
	if err == nil {
		_, err = sent.Exec()
	}
	var out store.Servers
	if err == nil {
		out, err = readServers(sent.Query())
	}
	if err = errors.Join(err, sent.Close()); err != nil {
		return store.Servers{}, fmt.Errorf("postgres: beat of server %s: %w", id, plain(err))
	}
	return out, nil
}

// Servers implements store.Fleet.
func (s servers) Servers(ctx context.Context) (store.Servers, error) {
	ctx, stop := context.WithTimeout(ctx, questionWithin)
	defer stop()
	out, err := readServers(s.in.pool.Query(ctx, serversQuery))
	if err != nil {
		return store.Servers{}, fmt.Errorf("postgres: list servers: %w", plain(err))
	}
	return out, nil
}

const serversQuery = `
	SELECT
		epoch,
		server,
		beat,
		reads
	FROM fleet
	LEFT JOIN servers ON true
	ORDER BY server`

func readServers(rows pgx.Rows, err error) (out store.Servers, _ error) {
	if err != nil {
		return out, err
	}
	defer rows.Close()
	for rows.Next() {
		var (
			id    *string
			beat  *int64
			reads map[string]int
		)
		if err := rows.Scan(&out.Epoch, &id, &beat, &reads); err != nil {
			return out, err
		}
		if id != nil && beat != nil {
			out.All = append(out.All, store.Server{ID: *id, Beat: *beat, Reads: reads})
		}
	}
	return out, rows.Err()
}

// BuryServer implements store.Fleet.
func (s servers) BuryServer(ctx context.Context, id string, beat int64) error {
	_, err := s.in.pool.Exec(ctx, `
		DELETE FROM servers
		WHERE server = $1
			AND beat = $2`,
		id, beat)
	if err != nil {
		return fmt.Errorf("postgres: bury server %s: %w", id, plain(err))
	}
	return nil
}

// LeaveServer implements store.Fleet.
func (s servers) LeaveServer(ctx context.Context, id string) error {
	_, err := s.in.pool.Exec(ctx, `
		DELETE FROM servers
		WHERE server = $1`,
		id)
	if err != nil {
		return fmt.Errorf("postgres: server %s leaves: %w", id, plain(err))
	}
	return nil
}
