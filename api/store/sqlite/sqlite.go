package sqlite

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"net/url"
	"os"
	"path/filepath"
	"runtime"
	"sync"
	"time"

	migratesqlite "github.com/golang-migrate/migrate/v4/database/sqlite"

	"benchmeet/api/store"
	"benchmeet/migrations"
)

// idleReaders is how many reading connections stay open when nobody reads.
// There is no upper limit: a limit could let readers that read in turn wait
// for one another for ever.
const idleReaders = 8

// busyFor is how long a connection waits for another one's lock.
const busyFor = 10 * time.Second

// errClosed is returned by every method after Close.
var errClosed = errors.New("the store is closed")

// Store is a store in one SQLite file.
type Store struct {
	keys
	path    string
	lock    *os.File
	writing *sql.DB
	writer  *writer
	reading *sql.DB
	asked   asked

	background sync.WaitGroup
	closing    context.Context
	close      context.CancelFunc
	closeOnce  sync.Once
	closeErr   error
}

var _ store.Store = (*Store)(nil)

// Open opens the file, creating it (0600) and its folder (0700) if they are not
// there, and brings its tables to the newest version. It refuses a file that
// another process has open, naming that process.
func Open(ctx context.Context, path string) (*Store, error) {
	full, err := filepath.Abs(path)
	if err != nil {
		return nil, fmt.Errorf("sqlite: open %s: %w", path, err)
	}
	s := &Store{path: full}
	s.keys.in = s
	s.closing, s.close = context.WithCancel(context.Background())
	if err := s.open(ctx); err != nil {
		_ = s.Close()
		return nil, fmt.Errorf("sqlite: open %s: %w", path, plain(err))
	}
	return s, nil
}

func (s *Store) open(ctx context.Context) error {
	if err := os.MkdirAll(filepath.Dir(s.path), 0o700); err != nil {
		return err
	}
	var err error
	if s.lock, err = lock(s.path + ".lock"); err != nil {
		return err
	}
	if err := claim(s.path); err != nil {
		return err
	}
	if s.writing, err = sql.Open("sqlite", dsn(s.path, false)); err != nil {
		return err
	}
	s.writing.SetMaxOpenConns(1)
	if err := checkDurable(ctx, s.writing); err != nil {
		return err
	}
	driver, err := migratesqlite.WithInstance(s.writing, &migratesqlite.Config{})
	if err != nil {
		return fmt.Errorf("prepare the tables: %w", err)
	}
	if err := migrations.Up(migrations.SQLite, "sqlite", driver); err != nil {
		return err
	}
	conn, err := s.writing.Conn(ctx)
	if err != nil {
		return err
	}
	s.writer = &writer{conn: newConnection(conn), path: s.path}
	// An erasure that a crash cut short may have left its rows in the log.
	if err := truncateLog(ctx, conn); err != nil {
		return err
	}
	if s.reading, err = sql.Open("sqlite", dsn(s.path, true)); err != nil {
		return err
	}
	s.reading.SetMaxIdleConns(max(idleReaders, runtime.NumCPU()))
	s.asked.of = s.reading
	if err := syncFolder(filepath.Dir(s.path)); err != nil {
		return err
	}
	s.background.Go(s.checkpoints)
	return nil
}

// dsn names the file with everything that each connection of a pool must have.
func dsn(path string, readOnly bool) string {
	query := url.Values{
		"_txlock": {"immediate"},
		"_dqs":    {"0"},
		"_pragma": {
			fmt.Sprintf("busy_timeout(%d)", busyFor.Milliseconds()),
			"journal_mode(WAL)",
			"synchronous(FULL)",
			"secure_delete(ON)",
			"foreign_keys(ON)",
			"temp_store(MEMORY)", // no names in temporary files
		},
	}
	if readOnly {
		query.Add("_pragma", "query_only(ON)")
	}
	return (&url.URL{Scheme: "file", OmitHost: true, Path: path, RawQuery: query.Encode()}).String()
}

// claim creates the file for its owner alone; the files that SQLite puts beside
// it get the same permissions. A file that was copied here by hand is made
// private too, where the file system knows permissions.
func claim(path string) error {
	file, err := os.OpenFile(path, os.O_RDWR|os.O_CREATE, 0o600)
	if err != nil {
		return err
	}
	_ = file.Chmod(0o600)
	return file.Close()
}

// checkDurable makes sure that SQLite took the settings on which the promises
// of the store rest: it ignores some of them in silence, for example the
// write-ahead log on a network drive.
func checkDurable(ctx context.Context, db *sql.DB) error {
	var mode string
	if err := db.QueryRowContext(ctx, `PRAGMA journal_mode`).Scan(&mode); err != nil {
		return fmt.Errorf("this is no database that can be read: %w", err)
	}
	if mode != "wal" {
		return fmt.Errorf("the drive does not allow a write-ahead log (journal mode %q); put the data on a drive of this machine", mode)
	}
	for _, want := range []struct {
		pragma string
		value  int
	}{
		{`PRAGMA synchronous`, 2}, // FULL
		{`PRAGMA secure_delete`, 1},
		{`PRAGMA foreign_keys`, 1},
	} {
		var got int
		if err := db.QueryRowContext(ctx, want.pragma).Scan(&got); err != nil {
			return err
		}
		if got != want.value {
			return fmt.Errorf("%s is %d and must be %d", want.pragma, got, want.value)
		}
	}
	return nil
}

// syncFolder makes the names of new files durable.
func syncFolder(path string) error {
	folder, err := os.Open(path)
	if err != nil {
		return err
	}
	defer func() { _ = folder.Close() }()
	return folder.Sync()
}

// Close waits for the write at work, if any, and releases the file.
func (s *Store) Close() error {
	s.closeOnce.Do(func() {
		s.close()
		s.background.Wait()
		if s.writer != nil {
			s.closeErr = errors.Join(s.closeErr, s.writer.close())
		}
		// Readers go first, so that the last connection may write too: it
		// moves the log into the file and removes it.
		for _, db := range []*sql.DB{s.reading, s.writing} {
			if db != nil {
				s.closeErr = errors.Join(s.closeErr, db.Close())
			}
		}
		s.forget() // who asks for a key from here on finds the store closed
		if s.lock != nil {
			s.closeErr = errors.Join(s.closeErr, s.lock.Close())
		}
	})
	return s.closeErr
}
