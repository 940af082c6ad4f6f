package sqlite

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"io/fs"
	"net/url"
	"os"
	"path/filepath"
)

// Backup writes a copy of everything, as of one moment, to a fresh file (0600)
// that Open can open. It refuses a path that is there already. Reading and
// writing go on meanwhile. A copy holds people who are erased later: Erasures
// are to be applied to it when it is restored, and copies are to be deleted
// after their time.
func (s *Store) Backup(ctx context.Context, path string) error {
	if err := s.backup(ctx, path); err != nil {
		return fmt.Errorf("sqlite: back up to %s: %w", path, err)
	}
	return nil
}

func (s *Store) backup(ctx context.Context, path string) (err error) {
	full, err := filepath.Abs(path) // and never a "file:" name with parameters
	if err != nil {
		return err
	}
	file, err := os.OpenFile(full, os.O_RDWR|os.O_CREATE|os.O_EXCL, 0o600)
	if errors.Is(err, fs.ErrExist) {
		return fmt.Errorf("choose a new name: %w", fs.ErrExist)
	}
	if err != nil {
		return err
	}
	defer func() {
		err = errors.Join(err, file.Close())
		if err != nil {
			_ = os.Remove(full)
		}
	}()
	if err := s.copyInto(ctx, full); err != nil {
		return err
	}
	if err := file.Sync(); err != nil {
		return err
	}
	return syncFolder(filepath.Dir(full))
}

// copyDSN names the file for the connection that copies it.
func copyDSN(path string, readOnly bool) string {
	if readOnly {
		return (&url.URL{
			Scheme: "file", OmitHost: true, Path: path, RawQuery: "mode=ro&_pragma=busy_timeout(10000)&_pragma=temp_store(MEMORY)",
		}).String()
	}
	return dsn(path, false)
}

// copyInto uses a connection of its own: those of the readers may not write to
// any file, and the writer's is needed meanwhile.
func (s *Store) copyInto(ctx context.Context, path string) error {
	ctx, stop := context.WithCancel(ctx)
	defer stop()
	defer context.AfterFunc(s.closing, stop)()
	if s.closing.Err() != nil {
		return errClosed
	}
	db, err := sql.Open("sqlite", copyDSN(s.path, s.writer.readOnly))
	if err != nil {
		return err
	}
	defer func() { _ = db.Close() }()
	_, err = db.ExecContext(ctx, `VACUUM INTO ?`, path)
	return err
}
