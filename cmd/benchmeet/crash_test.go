package main

import (
	"bufio"
	"context"
	"fmt"
	"io"
	"math/rand/v2"
	"net"
	"net/http"
	"os/exec"
	"regexp"
	"sync"
	"syscall"
	"testing"
	"time"

	"benchmeet/api/rehearsal"
)

// crashes is how often the server is killed on each store.
const crashes = 20

// victim is a server in a process of its own that is killed and started again.
type victim struct {
	t      testing.TB
	args   []string
	under  []string // a program that runs it, such as a tracer
	env    []string // more of it
	log    heard    // of all its starts
	base   string
	secret string

	mu        sync.Mutex
	cmd       *exec.Cmd
	listeners []net.Conn // of strangers
	half      []net.Conn // with half a request
	ends      sync.WaitGroup
	longest   time.Duration // that one of them was open
}

func newVictim(t *testing.T, database string) *victim {
	t.Helper()
	port := freePort(t)
	v := &victim{t: t, base: fmt.Sprintf("http://127.0.0.1:%d", port)}
	v.args = []string{"serve", "--listen", fmt.Sprintf("127.0.0.1:%d", port), "--data", t.TempDir(), "--database", database}
	v.secret = v.start("--new-sign-in")
	t.Cleanup(v.kill)
	return v
}

func freePort(t testing.TB) int {
	t.Helper()
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	defer l.Close()
	return l.Addr().(*net.TCPAddr).Port
}

var tokenInLink = regexp.MustCompile(`#token=(\S+)`)

// start starts the server, waits until it answers, and returns the token that
// it printed, if any.
func (v *victim) start(more ...string) string {
	cmd := program(context.Background(), append(v.args, more...)...)
	cmd.Env = append(cmd.Env, v.env...)
	if len(v.under) > 0 {
		traced := exec.Command(v.under[0], append(v.under[1:], cmd.Args...)...)
		traced.Env = cmd.Env
		cmd = traced
	}
	cmd.SysProcAttr = &syscall.SysProcAttr{Setpgid: true} // so that kill reaches all of it
	out, err := cmd.StdoutPipe()
	if err != nil {
		v.t.Error(err)
		return ""
	}
	cmd.Stderr = &v.log
	if err := cmd.Start(); err != nil {
		v.t.Error(err)
		return ""
	}
	v.mu.Lock()
	v.cmd = cmd
	v.mu.Unlock()
	found := make(chan string, 1)
	go func() {
		defer close(found)
		lines := bufio.NewScanner(out)
		for lines.Scan() {
			if m := tokenInLink.FindStringSubmatch(lines.Text()); m != nil {
				found <- m[1]
			}
		}
		_, _ = io.Copy(io.Discard, out) // what follows is not looked at
	}()
	deadline := time.Now().Add(30 * time.Second)
	for time.Now().Before(deadline) {
		if answer, err := http.Get(v.base + "/api/v1/about"); err == nil {
			answer.Body.Close()
			if len(more) == 0 {
				return ""
			}
			return <-found
		}
		time.Sleep(10 * time.Millisecond)
	}
	v.t.Errorf("the server did not answer within 30 s: %s", v.log.String())
	return ""
}

// kill ends the server as a power cut of the process does: SIGKILL.
func (v *victim) kill() {
	v.mu.Lock()
	cmd := v.cmd
	v.cmd = nil
	v.mu.Unlock()
	if cmd != nil {
		_ = syscall.Kill(-cmd.Process.Pid, syscall.SIGKILL) // it may be gone already
		_ = cmd.Wait()                                      // says that it was killed
	}
}

// end ends the server as a service manager does, and waits for it.
func (v *victim) end() {
	v.mu.Lock()
	cmd := v.cmd
	v.cmd = nil
	v.mu.Unlock()
	if err := syscall.Kill(-cmd.Process.Pid, syscall.SIGTERM); err != nil {
		v.t.Fatal(err)
	}
	_ = cmd.Wait() // a tracer says how the traced ended
}

// TestKillLosesNothingAcknowledged plays meets while the server is killed at
// random moments, and then looks for every order and every run that was
// acknowledged.
func TestKillLosesNothingAcknowledged(t *testing.T) {
	databases(t, func(t *testing.T, database string) {
		v := newVictim(t, database)
		rng := rand.New(rand.NewPCG(20, uint64(len(database))))
		ctx, cancel := context.WithTimeout(t.Context(), 5*time.Minute)
		defer cancel()
		var days []*rehearsal.Day
		kills := 0
		for meets := 1; kills < crashes; meets++ {
			plan := rehearsal.MakePlan(uint64(meets), 12, 4)
			plan.Meet = fmt.Sprintf("crash-%d", meets)
			plan.ProtestS, plan.CallS = 0, 0 // the clock of this server is real
			day := rehearsal.New(rehearsal.Options{Base: v.base, Token: v.secret, Plan: plan})
			played := make(chan error, 1)
			go func() { played <- day.Play(ctx) }()
			for over := false; !over; {
				select {
				case err := <-played:
					if err != nil {
						t.Fatalf("meet %d after %d kills: %v", meets, kills, err)
					}
					over = true
				case <-time.After(time.Duration(20+rng.IntN(300)) * time.Millisecond):
					if kills < crashes {
						v.kill()
						v.start()
						kills++
					}
				}
			}
			days = append(days, day)
		}
		v.kill()
		v.start()
		for i, day := range days {
			evidence, err := day.Gather(ctx)
			if err != nil {
				t.Fatal(err)
			}
			for _, f := range day.Check(evidence) {
				if !f.Holds {
					t.Errorf("meet %d after %d kills: %s: %s", i+1, kills, f.Name, f.Says)
				}
			}
		}
	})
}
