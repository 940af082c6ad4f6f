package postgres

import (
	"context"
	"errors"
	"fmt"
	"io"
	"net"

	"github.com/jackc/pgerrcode"
	"github.com/jackc/pgx/v5/pgconn"

	"benchmeet/api/store"
)

// plain says of an error what keeps the database from its work, where it is that.
func plain(err error) error {
	switch {
	case err == nil, errors.Is(err, store.ErrFull), errors.Is(err, store.ErrReadOnly), errors.Is(err, store.ErrAway):
		return err
	case away(err):
		return fmt.Errorf("%w (%w)", store.ErrAway, err)
	}
	var refused *pgconn.PgError
	if !errors.As(err, &refused) {
		return err
	}
	switch refused.Code {
	case pgerrcode.DiskFull:
		return fmt.Errorf("%w (%w)", store.ErrFull, err)
	case pgerrcode.ReadOnlySQLTransaction:
		return fmt.Errorf("%w (%w)", store.ErrReadOnly, err)
	}
	return err
}

// away says whether an error means that the database could not be reached, or went away
// while it worked. A caller who went away is none, nor is a server that answers and refuses
// to let us in: that takes a person.
func away(err error) bool {
	if errors.Is(err, context.Canceled) {
		return false
	}
	var refused *pgconn.PgError
	if errors.As(err, &refused) {
		switch refused.Code {
		case pgerrcode.AdminShutdown, pgerrcode.CrashShutdown, pgerrcode.CannotConnectNow, pgerrcode.TooManyConnections,
			pgerrcode.IdleInTransactionSessionTimeout:
			return true
		}
		return pgerrcode.IsConnectionException(refused.Code)
	}
	var connect *pgconn.ConnectError
	if errors.As(err, &connect) {
		return true
	}
	if errors.Is(err, context.DeadlineExceeded) {
		return false // whose patience ended, its owner says
	}
	var network net.Error
	return errors.As(err, &network) || errors.Is(err, io.EOF) || errors.Is(err, io.ErrUnexpectedEOF) ||
		errors.Is(err, net.ErrClosed) || pgconn.SafeToRetry(err)
}
