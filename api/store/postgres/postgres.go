package postgres

import (
	"context"
	"errors"
	"fmt"
	"sync"
	"time"

	migratepgx "github.com/golang-migrate/migrate/v4/database/pgx/v5"
	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgxpool"
	"github.com/jackc/pgx/v5/stdlib"

	"benchmeet/api/store"
	"benchmeet/migrations"
)

const (
	// connections is the size of the pool where the URL names none.
	connections = 24
	// fewestConnections leaves room for a reader beside a writer.
	fewestConnections = 4
	// patience is how long things take that no caller waits for, at most.
	patience = 30 * time.Second
	// answerWithin is how long a connection may take to say that it lives.
	answerWithin = 3 * time.Second
)

// errClosed is returned by methods after Close.
var errClosed = errors.New("the store is closed")

// Store is a store in a PostgreSQL database.
type Store struct {
	keys
	servers
	pool pool
	// writes has room for the writes at work. They get fewer connections than
	// there are, so that one that reads beside its transaction never waits for
	// a connection that waits for it.
	writes   chan struct{}
	notifier *notifier
	// overwriting is held by who has the tables with names written anew.
	overwriting chan struct{}

	closing    context.Context
	close      context.CancelFunc
	background sync.WaitGroup // the notifier and the listeners
	closeOnce  sync.Once
}

var _ store.Store = (*Store)(nil)

// Open connects to the database that the URL names and brings its tables to the
// newest version. Processes that open it at the same moment wait for each other
// there.
func Open(ctx context.Context, url string) (*Store, error) {
	config, err := pgxpool.ParseConfig(url)
	if err != nil {
		return nil, fmt.Errorf("postgres: open: %w", err) // pgx hides the password
	}
	settle(config, url)
	if err := migrateUp(ctx, config.ConnConfig); err != nil {
		return nil, fmt.Errorf("postgres: open database %s: %w", config.ConnConfig.Database, plain(err))
	}
	connected, err := pgxpool.NewWithConfig(ctx, config)
	if err != nil {
		return nil, fmt.Errorf("postgres: open database %s: %w", config.ConnConfig.Database, plain(err))
	}
	s := &Store{
		pool:     pool{connected},
		writes:   make(chan struct{}, config.MaxConns-config.MaxConns/fewestConnections),
		notifier: newNotifier(connected), overwriting: make(chan struct{}, 1),
	}
	s.keys, s.servers.in = newKeys(s), s
	s.closing, s.close = context.WithCancel(context.Background())
	s.background.Go(func() { s.notifier.run(s.closing) })
	return s, nil
}

// settle sets what the promises of the store rest on, and what the URL leaves
// open.
func settle(config *pgxpool.Config, url string) {
	if !names(url, "pool_max_conns") {
		config.MaxConns = connections
	}
	config.MaxConns = max(config.MaxConns, fewestConnections)
	if config.ConnConfig.ConnectTimeout == 0 {
		config.ConnConfig.ConnectTimeout = 5 * time.Second
	}
	config.PingTimeout = answerWithin
	config.ConnConfig.DialFunc = dialer().DialContext
	settings := config.ConnConfig.RuntimeParams
	// A commit that returned is on disk, whatever the server's default is.
	settings["synchronous_commit"] = "on"
	// A process that was frozen while it held a stream, or that the network parted from it, does not
	// hold up the others for long.
	settings["idle_in_transaction_session_timeout"] = "20s"
	if settings["application_name"] == "" {
		settings["application_name"] = "benchmeet"
	}
}

// names says whether the URL, or the list of key=value pairs, sets a key.
func names(url, key string) bool {
	config, err := pgx.ParseConfig(url)
	if err != nil {
		return false
	}
	_, there := config.RuntimeParams[key]
	return there
}

// migrateUp brings the tables up. A lock around it keeps others from taking
// tables that are being changed for tables that stopped half-way.
func migrateUp(ctx context.Context, config *pgx.ConnConfig) error {
	conn, err := pgx.ConnectConfig(ctx, config.Copy())
	if err != nil {
		return err
	}
	defer closeConn(conn)
	if _, err := conn.Exec(ctx, `SELECT pg_advisory_lock($1)`, lockKey("tables")); err != nil {
		return fmt.Errorf("wait for others who open it: %w", err)
	}
	driver, err := migratepgx.WithInstance(stdlib.OpenDB(*config.Copy()), &migratepgx.Config{})
	if err != nil {
		return fmt.Errorf("prepare the tables: %w", err)
	}
	defer func() { _ = driver.Close() }()
	return migrations.Up(migrations.Postgres, "postgres", driver)
}

// closeConn ends a connection, and all that it holds, within a short time.
func closeConn(conn *pgx.Conn) {
	ctx, stop := context.WithTimeout(context.Background(), time.Second)
	defer stop()
	_ = conn.Close(ctx)
}

// Close ends the listeners, waits for the writes at work, tells others of them
// and closes the connections.
func (s *Store) Close() error {
	s.closeOnce.Do(func() {
		s.close()
		for range cap(s.writes) {
			s.writes <- struct{}{} // never given back: no write begins any more
		}
		s.background.Wait()
		s.notifier.send()
		s.pool.Close()
	})
	return nil
}
