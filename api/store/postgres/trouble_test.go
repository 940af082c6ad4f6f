package postgres

import (
	"context"
	"errors"
	"fmt"
	"io"
	"net"
	"syscall"
	"testing"
	"time"

	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgconn"

	"benchmeet/api/store"
	"benchmeet/api/store/postgres/pgtest"
)

// TestTroubleOfTheServerIsSaidPlainly: the codes are those of appendix A of the manual of
// PostgreSQL; each is said as the same trouble of a file is.
func TestTroubleOfTheServerIsSaidPlainly(t *testing.T) {
	for _, tt := range []struct {
		code string
		want error
	}{
		{"53100", store.ErrFull},     // disk_full
		{"25006", store.ErrReadOnly}, // read_only_sql_transaction
		{"53200", nil},               // out_of_memory
		{"42501", nil},               // insufficient_privilege
		{"57P01", store.ErrAway},     // admin_shutdown
		{"57P03", store.ErrAway},     // cannot_connect_now
		{"53300", store.ErrAway},     // too_many_connections
		{"08006", store.ErrAway},     // connection_failure
		{"40001", nil},               // serialization_failure
	} {
		err := fmt.Errorf("append: %w", &pgconn.PgError{Code: tt.code, Message: "as the server says it"})
		for name, got := range map[string]error{"plain": plain(err), "explain": explain(err)} {
			for _, said := range []error{store.ErrFull, store.ErrReadOnly, store.ErrAway} {
				if is := errors.Is(got, said); is != errors.Is(said, tt.want) {
					t.Errorf("%s of %s is %v", name, tt.code, got)
				}
			}
			var kept *pgconn.PgError
			if !errors.As(got, &kept) || kept.Code != tt.code {
				t.Errorf("%s of %s lost what the server said: %v", name, tt.code, got)
			}
		}
	}
}

// TestAConnectionThatBreaksIsTheDatabaseAway, and a caller who goes away is not.
func TestAConnectionThatBreaksIsTheDatabaseAway(t *testing.T) {
	for _, tt := range []struct {
		err  error
		want bool
	}{
		{&net.OpError{Op: "write", Err: syscall.EPIPE}, true},
		{io.ErrUnexpectedEOF, true},
		{errors.Join(io.EOF, errors.New("and more")), true},
		{context.Canceled, false},
		{context.DeadlineExceeded, false},
		{&net.OpError{Op: "read", Err: context.Canceled}, false},
		{errors.New("a mistake of ours"), false},
		{nil, false},
	} {
		for name, got := range map[string]error{"plain": plain(tt.err), "explain": explain(tt.err), "twice": plain(plain(tt.err))} {
			if is := errors.Is(got, store.ErrAway); is != tt.want || !errors.Is(got, tt.err) {
				t.Errorf("%s of %v is %v", name, tt.err, got)
			}
		}
	}
}

// TestADatabaseThatMayOnlyBeRead: a real server refuses with the code, and what is to be
// kept is refused with the plain words; when the database may be written again it goes on
// by itself.
func TestADatabaseThatMayOnlyBeRead(t *testing.T) {
	url := pgtest.Database(t)
	s, err := Open(t.Context(), url)
	if err != nil {
		t.Fatal(err)
	}
	defer func() { _ = s.Close() }()
	admin, err := pgx.Connect(t.Context(), url)
	if err != nil {
		t.Fatal(err)
	}
	defer closeConn(admin)
	may := func(setting string) {
		t.Helper()
		if _, err := admin.Exec(t.Context(), `
			DO $$
			BEGIN
				SET LOCAL transaction_read_only = off;
				EXECUTE format('ALTER DATABASE %I SET default_transaction_read_only = `+setting+`', current_database());
				PERFORM pg_terminate_backend(pid) FROM pg_stat_activity
				WHERE datname = current_database() AND pid <> pg_backend_pid();
			END
			$$`); err != nil {
			t.Fatal(err)
		}
	}
	writes := map[string]func() error{
		"a club":    func() error { return s.EnsureClub(t.Context(), store.Club{ID: "harbour", Name: "Harbour"}) },
		"a token":   func() error { return s.PutToken(t.Context(), store.Token{ID: "k", Club: "harbour", Role: "box"}) },
		"a session": func() error { return s.EndSession(t.Context(), "harbour", "s", 1) },
	}
	until := func(name string, is func(error) bool) {
		t.Helper()
		var err error
		for end := time.Now().Add(20 * time.Second); time.Now().Before(end); time.Sleep(50 * time.Millisecond) {
			if err = writes[name](); is(err) {
				return
			}
		}
		t.Errorf("%s: %v", name, err)
	}
	until("a club", func(err error) bool { return err == nil })
	may("on")
	for name := range writes { // a connection that was cut is made anew
		until(name, func(err error) bool { return errors.Is(err, store.ErrReadOnly) })
	}
	may("off")
	for name := range writes {
		until(name, func(err error) bool { return err == nil || errors.Is(err, store.ErrNotFound) })
	}
}
