package sqlite

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"syscall"

	"golang.org/x/sys/unix"
	"modernc.org/sqlite"
	sqlite3 "modernc.org/sqlite/lib"

	"benchmeet/api/store"
)

// plain says of an error what keeps the store from writing, where it is that and no
// mistake.
func plain(err error) error {
	var said *sqlite.Error
	switch {
	case err == nil:
		return nil
	case errors.Is(err, syscall.ENOSPC), errors.Is(err, syscall.EDQUOT):
		return fmt.Errorf("%w (%w)", store.ErrFull, err)
	case errors.Is(err, syscall.EROFS), errors.Is(err, fs.ErrPermission):
		return fmt.Errorf("%w (%w)", store.ErrReadOnly, err)
	case !errors.As(err, &said):
		return err
	}
	switch code := said.Code() & 0xff; {
	case code == sqlite3.SQLITE_FULL:
		return fmt.Errorf("%w (%w)", store.ErrFull, err)
	case code == sqlite3.SQLITE_READONLY, code == sqlite3.SQLITE_CANTOPEN, code == sqlite3.SQLITE_PERM:
		return fmt.Errorf("%w (%w)", store.ErrReadOnly, err)
	}
	return err
}

// noRoom says whether a file's disk has no room for even a page.
func noRoom(path string) bool {
	var disk unix.Statfs_t
	return unix.Statfs(filepath.Dir(path), &disk) == nil && disk.Bavail*uint64(disk.Bsize) < 64<<10
}

// mayWrite says whether this program can put files into a folder.
func mayWrite(folder string) bool { return unix.Access(folder, unix.W_OK) == nil }

// wholeWithout says whether the file alone is the whole database: nothing stands in a
// write-ahead log beside it.
func wholeWithout(path string) bool {
	log, err := os.Stat(path + "-wal")
	return errors.Is(err, fs.ErrNotExist) || err == nil && log.Size() == 0
}
