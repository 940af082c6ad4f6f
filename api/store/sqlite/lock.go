package sqlite

import (
	"errors"
	"fmt"
	"io"
	"os"
	"strings"
	"syscall"
)

// ErrInUse is wrapped by Open's error while another process has the file open;
// the error names that process.
var ErrInUse = errors.New("the data is in use")

// lock takes the lock file for this process and writes its number into it. The
// kernel frees the lock when the process ends, however it ends, so the file
// itself may stay.
func lock(path string) (*os.File, error) {
	file, err := os.OpenFile(path, os.O_RDWR|os.O_CREATE, 0o600)
	if err != nil {
		return nil, fmt.Errorf("open the lock file: %w", err)
	}
	err = syscall.Flock(int(file.Fd()), syscall.LOCK_EX|syscall.LOCK_NB)
	if errors.Is(err, syscall.EWOULDBLOCK) {
		holder := holderOf(file)
		_ = file.Close()
		return nil, fmt.Errorf("%w by %s; stop that program first, or give the order to it", ErrInUse, holder)
	}
	if err != nil {
		_ = file.Close()
		return nil, fmt.Errorf("lock %s: %w", path, err)
	}
	if err := file.Truncate(0); err != nil {
		_ = file.Close()
		return nil, fmt.Errorf("write the lock file: %w", err)
	}
	if _, err := file.WriteAt(fmt.Appendf(nil, "%d\n", os.Getpid()), 0); err != nil {
		_ = file.Close()
		return nil, fmt.Errorf("write the lock file: %w", err)
	}
	return file, nil
}

// holderOf reads who has the lock; it may have come too early to see it.
func holderOf(file *os.File) string {
	text, err := io.ReadAll(io.LimitReader(file, 32))
	number := strings.TrimSpace(string(text))
	if err != nil || number == "" {
		return "another process"
	}
	return "process " + number
}
