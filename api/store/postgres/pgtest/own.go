package pgtest

import (
	"os"
	"syscall"
	"testing"
)

// Server is a PostgreSQL server of one test alone, which may crash it.
type Server struct {
	t        testing.TB
	programs string
	as       *syscall.SysProcAttr
	cluster  *cluster
}

// Own starts a server that ends with the test. Without PostgreSQL's programs the test is
// skipped, or fails if BENCHMEET_TEST_ALL is 1.
func Own(t testing.TB) *Server {
	t.Helper()
	programs := programs()
	switch {
	case programs != "":
	case os.Getenv("BENCHMEET_TEST_ALL") == "1":
		t.Fatal("PostgreSQL is not installed (apt-get install postgresql)")
	default:
		t.Skip("PostgreSQL is not installed; BENCHMEET_TEST_ALL=1 makes this a failure")
	}
	c, err := start(programs)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(c.stop)
	as, err := runAs(c.folder)
	if err != nil {
		t.Fatal(err)
	}
	return &Server{t: t, programs: programs, as: as, cluster: c}
}

// URL is the address of an empty database of the server.
func (s *Server) URL() string { return s.cluster.url() }

// Socket is the folder of the server's socket.
func (s *Server) Socket() string { return s.cluster.folder }

// Crash ends the server at once, without a checkpoint: it has to recover when it starts.
func (s *Server) Crash() { s.cluster.end(syscall.SIGQUIT) }

// Start starts it again.
func (s *Server) Start() {
	s.t.Helper()
	s.cluster.ended = make(chan struct{})
	if err := s.cluster.run(s.programs, s.as); err != nil {
		s.t.Fatal(err)
	}
}
