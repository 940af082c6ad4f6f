package sqlite

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"net/url"
	"os"
	"path/filepath"
)

// ErrReadOnly is wrapped by the errors of all methods that would write to a
// store of OpenReadOnly.
var ErrReadOnly = errors.New("the database was opened only to read")

// OpenReadOnly opens a file that is there, beside a process that has it open or
// a copy of Backup, and takes no lock: the write-ahead log lets others read
// while one writes. Nothing in the file changes. It refuses tables of another
// version than this program's. While a reading goes on, an erasure in the other
// process waits for its end.
func OpenReadOnly(ctx context.Context, path string) (*Store, error) {
	full, err := filepath.Abs(path)
	if err != nil {
		return nil, fmt.Errorf("sqlite: open %s: %w", path, err)
	}
	s := &Store{path: full, writer: &writer{readOnly: true}}
	s.keys.in = s
	s.closing, s.close = context.WithCancel(context.Background())
	if err := s.openReadOnly(ctx); err != nil {
		_ = s.Close()
		return nil, fmt.Errorf("sqlite: open %s to read: %w", path, err)
	}
	return s, nil
}

func (s *Store) openReadOnly(ctx context.Context) error {
	if _, err := os.Stat(s.path); err != nil {
		return err // SQLite would say less
	}
	var err error
	// SQLite puts two files beside the database to read it. Where it cannot, such as on a
	// stick that is locked, the file alone is read, if it is the whole database.
	still := !mayWrite(filepath.Dir(s.path))
	if still && !wholeWithout(s.path) {
		return fmt.Errorf("%s stands in a folder that is read-only, with events that are in its -wal file still: copy both into "+
			"a folder where this program may write, and look at the copy", filepath.Base(s.path))
	}
	if s.reading, err = sql.Open("sqlite", readOnlyDSN(s.path, still)); err != nil {
		return err
	}
	s.asked.of = s.reading
	return checkVersion(ctx, s.reading)
}

// readOnlyDSN names the file for connections that cannot write. It leaves the
// journal mode alone, which is part of the file.
func readOnlyDSN(path string, still bool) string {
	query := url.Values{
		"immutable": {map[bool]string{true: "1", false: "0"}[still]}, // then nobody can write to it
		"mode":      {"ro"},
		"_dqs":      {"0"},
		"_pragma": {
			"busy_timeout(10000)",
			"query_only(ON)",
			"temp_store(MEMORY)", // no names in temporary files
		},
	}
	return (&url.URL{Scheme: "file", OmitHost: true, Path: path, RawQuery: query.Encode()}).String()
}
