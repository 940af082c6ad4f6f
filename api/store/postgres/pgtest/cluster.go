package pgtest

import (
	"context"
	"errors"
	"fmt"
	"net/url"
	"os"
	"os/exec"
	"os/user"
	"path/filepath"
	"runtime"
	"strconv"
	"syscall"
	"time"

	"github.com/jackc/pgx/v5"
)

// cluster is a PostgreSQL server in a temporary folder.
type cluster struct {
	folder  string // with the data and the socket
	data    string
	process *os.Process
	ended   chan struct{}
}

// programs is the folder of the newest PostgreSQL programs, or "".
func programs() string {
	found, _ := filepath.Glob("/usr/lib/postgresql/*/bin/postgres")
	newest, version := "", 0.0
	for _, path := range found {
		bin := filepath.Dir(path)
		v, err := strconv.ParseFloat(filepath.Base(filepath.Dir(bin)), 64)
		if err == nil && v > version {
			newest, version = bin, v
		}
	}
	return newest
}

// start makes a cluster and starts its server. PostgreSQL refuses to run as
// root, so root starts it as the user postgres.
func start(programs string) (*cluster, error) {
	folder, err := os.MkdirTemp("", "benchmeet-pg")
	if err != nil {
		return nil, err
	}
	c := &cluster{folder: folder, data: filepath.Join(folder, "data"), ended: make(chan struct{})}
	if err := c.start(programs); err != nil {
		c.stop()
		return nil, fmt.Errorf("start PostgreSQL for the tests: %w", err)
	}
	return c, nil
}

func (c *cluster) start(programs string) error {
	as, err := runAs(c.folder)
	if err != nil {
		return err
	}
	if err := c.initialise(programs, as); err != nil {
		return err
	}
	return c.run(programs, as)
}

func (c *cluster) initialise(programs string, as *syscall.SysProcAttr) error {
	initialise := func(more ...string) ([]byte, error) {
		run := exec.Command(filepath.Join(programs, "initdb"), append([]string{
			"--pgdata", c.data, "--username", "postgres", "--auth", "trust",
			"--encoding", "UTF8", "--locale", "C.UTF-8", "--no-sync",
		}, more...)...)
		run.Dir, run.SysProcAttr = c.folder, as
		return run.CombinedOutput()
	}
	// A language's order of letters differs from that of bytes, so that a query
	// that forgets to ask for bytes is found. Older versions have no such switch.
	if _, err := initialise("--locale-provider", "icu", "--icu-locale", "en"); err != nil {
		if out, err := initialise(); err != nil {
			return fmt.Errorf("initdb: %w\n%s", err, out)
		}
	}
	return nil
}

// run starts the server on the cluster's data.
func (c *cluster) run(programs string, as *syscall.SysProcAttr) error {
	log, err := os.Create(filepath.Join(c.folder, "log"))
	if err != nil {
		return err
	}
	defer func() { _ = log.Close() }()
	run := exec.Command(filepath.Join(programs, "postgres"), "-D", c.data,
		"-c", "listen_addresses=", "-c", "unix_socket_directories="+c.folder, "-c", "max_connections=200")
	run.Dir, run.Stdout, run.Stderr = c.folder, log, log
	attributes := *as
	endWithParent(&attributes)
	run.SysProcAttr = &attributes
	if err := c.supervise(run); err != nil {
		return err
	}
	return c.await(log.Name())
}

// runAs gives the folder to the user that the server runs as.
func runAs(folder string) (*syscall.SysProcAttr, error) {
	if os.Getuid() != 0 {
		return &syscall.SysProcAttr{}, nil
	}
	postgres, err := user.Lookup("postgres")
	if err != nil {
		return nil, fmt.Errorf("root needs the user postgres to start PostgreSQL: %w", err)
	}
	uid, err1 := strconv.ParseUint(postgres.Uid, 10, 32)
	gid, err2 := strconv.ParseUint(postgres.Gid, 10, 32)
	if err := errors.Join(err1, err2); err != nil {
		return nil, err
	}
	if err := os.Chown(folder, int(uid), int(gid)); err != nil {
		return nil, err
	}
	return &syscall.SysProcAttr{Credential: &syscall.Credential{Uid: uint32(uid), Gid: uint32(gid)}}, nil
}

// supervise starts the server from a thread that stays as long as the server
// does: the signal at the parent's death is tied to the thread.
func (c *cluster) supervise(run *exec.Cmd) error {
	started := make(chan error)
	go func() {
		runtime.LockOSThread()
		defer runtime.UnlockOSThread()
		err := run.Start()
		if err == nil {
			c.process = run.Process
		}
		started <- err
		if err == nil {
			_ = run.Wait()
			close(c.ended)
		}
	}()
	return <-started
}

// await returns when the server takes connections.
func (c *cluster) await(log string) error {
	ctx, stop := context.WithTimeout(context.Background(), time.Minute)
	defer stop()
	for {
		conn, err := pgx.Connect(ctx, c.url())
		if err == nil {
			return conn.Close(ctx)
		}
		select {
		case <-c.ended:
		case <-ctx.Done():
		case <-time.After(20 * time.Millisecond):
			continue
		}
		said, _ := os.ReadFile(log)
		return fmt.Errorf("the server does not answer: %w\n%s", err, said)
	}
}

func (c *cluster) url() string {
	return "postgres://postgres@/postgres?host=" + url.QueryEscape(c.folder)
}

// stop ends the server and removes the folder.
func (c *cluster) stop() {
	c.end(syscall.SIGINT) // without waiting for clients
	_ = os.RemoveAll(c.folder)
}

// end stops the server by a signal, if it runs.
func (c *cluster) end(signal os.Signal) {
	if c.process != nil {
		_ = c.process.Signal(signal)
		<-c.ended
	}
	c.process = nil
}
