// Package pgtest gives tests a PostgreSQL database of their own. It is for
// tests only.
//
// If BENCHMEET_TEST_POSTGRES is set, it is the URL of a database of a server
// that is running, as a user who may create databases; nothing is started then.
// Otherwise a server of its own is started in a temporary folder, reachable
// through a socket in that folder alone, from the newest programs in
// /usr/lib/postgresql, and stopped with the tests. Without either, tests are
// skipped with a message, or fail if BENCHMEET_TEST_ALL is 1.
//
// A package that calls Database must end its tests through Main.
package pgtest

import (
	"context"
	"fmt"
	"net/url"
	"os"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"github.com/jackc/pgx/v5"
)

// running is the server of this test program.
var running struct {
	once  sync.Once
	admin string // URL of a database in which others can be created
	own   *cluster
	err   error
}

// made counts the databases of this test program.
var made atomic.Int64

// Main runs the tests of a package, stops the server if one was started, and
// returns the exit code:
//
//	func TestMain(m *testing.M) { os.Exit(pgtest.Main(m)) }
func Main(m *testing.M) int {
	defer func() {
		if running.own != nil {
			running.own.stop()
		}
	}()
	return m.Run()
}

// Database makes an empty database, which is dropped with the test, and returns
// its URL.
func Database(t testing.TB) string {
	t.Helper()
	admin := server(t)
	name := fmt.Sprintf("benchmeet_test_%d_%d_%d", os.Getpid(), time.Now().UnixNano()%1_000_000, made.Add(1))
	order(t, admin, `CREATE DATABASE `+pgx.Identifier{name}.Sanitize())
	t.Cleanup(func() { order(t, admin, `DROP DATABASE `+pgx.Identifier{name}.Sanitize()+` WITH (FORCE)`) })
	u, err := url.Parse(admin)
	if err != nil {
		t.Fatal(err)
	}
	u.Path = "/" + name
	return u.String()
}

// Folder is the data folder of the server, or "" if the server is not ours.
func Folder(t testing.TB) string {
	t.Helper()
	server(t)
	if running.own == nil {
		return ""
	}
	return running.own.data
}

// server starts the server at the first call and returns the URL of a database
// in it. It ends the test if there is none.
func server(t testing.TB) string {
	t.Helper()
	running.once.Do(func() {
		if running.admin = os.Getenv("BENCHMEET_TEST_POSTGRES"); running.admin != "" {
			return
		}
		programs := programs()
		if programs == "" {
			return
		}
		if running.own, running.err = start(programs); running.err == nil {
			running.admin = running.own.url()
		}
	})
	switch {
	case running.err != nil:
		t.Fatal(running.err)
	case running.admin != "":
	case os.Getenv("BENCHMEET_TEST_ALL") == "1":
		t.Fatal("PostgreSQL is not installed (apt-get install postgresql), and BENCHMEET_TEST_POSTGRES names no server")
	default:
		t.Skip("PostgreSQL is not installed, and BENCHMEET_TEST_POSTGRES names no server; BENCHMEET_TEST_ALL=1 makes this a failure")
	}
	return running.admin
}

// order runs one statement on a connection of its own.
func order(t testing.TB, at, statement string) {
	t.Helper()
	ctx, stop := context.WithTimeout(context.Background(), time.Minute)
	defer stop()
	conn, err := pgx.Connect(ctx, at)
	if err != nil {
		t.Fatalf("connect to the test server: %v", err)
	}
	defer func() { _ = conn.Close(ctx) }()
	if _, err := conn.Exec(ctx, statement); err != nil {
		t.Fatalf("%s: %v", strings.SplitN(statement, "\n", 2)[0], err)
	}
}
