package main

import (
	"bufio"
	"context"
	"fmt"
	"net/http"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"

	"benchmeet/api/gen"
	"benchmeet/api/rehearsal"
)

// needStrace skips a test where there is no strace; where all tests have to run it fails.
func needStrace(t *testing.T) {
	t.Helper()
	_, err := exec.LookPath("strace")
	switch {
	case err == nil:
	case os.Getenv("BENCHMEET_TEST_ALL") == "1":
		t.Fatal("strace is missing: make setup installs it")
	default:
		t.Skip("strace is not installed; make test installs it")
	}
}

// TestEveryAnswerLeavesAfterItsSync traces the system calls of a server and
// finds, for every order and every chunk, a completed sync between the reading
// of the request and the writing of its answer.
func TestEveryAnswerLeavesAfterItsSync(t *testing.T) {
	needStrace(t)
	v, calls := tracedServer(t)
	ctx, cancel := context.WithTimeout(t.Context(), 2*time.Minute)
	defer cancel()
	orders := giveOrders(ctx, t, v)
	v.end()
	answered := checkTrace(t, calls)
	if answered < orders {
		t.Errorf("%d orders were given, the trace shows %d answers", orders, answered)
	}
}

// tracedServer starts a server under strace, which writes to a file.
func tracedServer(t *testing.T) (v *victim, calls string) {
	t.Helper()
	calls = filepath.Join(t.TempDir(), "calls")
	port := freePort(t)
	v = &victim{t: t, base: fmt.Sprintf("http://127.0.0.1:%d", port)}
	v.args = []string{"serve", "--listen", fmt.Sprintf("127.0.0.1:%d", port), "--data", t.TempDir()}
	v.under = []string{"strace", "-f", "-s", "160", "-e", "trace=read,write,fsync,fdatasync", "-e", "signal=none", "-o", calls}
	v.secret = v.start("--new-sign-in")
	t.Cleanup(v.kill)
	return v, calls
}

// giveOrders gives orders and chunks one after the other, so that each answer in
// the trace belongs to the request before it.
func giveOrders(ctx context.Context, t *testing.T, v *victim) int {
	t.Helper()
	c := &rehearsal.Client{Base: v.base, Token: v.secret, HTTP: &http.Client{}}
	given := 0
	give := func(method, path string, body any) {
		t.Helper()
		given++
		key := fmt.Sprintf("01890000-0000-7000-8000-%012d", given)
		if _, err := c.Order(ctx, method, path, key, body); err != nil {
			t.Fatal(err)
		}
	}
	for i := 1; i <= 5; i++ {
		give(http.MethodPut, fmt.Sprintf("/api/v1/benches/b%d", i), gen.BenchBody{Number: i, CircumferenceMm: 94.25})
	}
	for i := 1; i <= 5; i++ {
		give(http.MethodPost, "/api/v1/benches/b1/chunks", map[string]any{
			"boot": "00000000000000aa", "run": fmt.Sprintf("try-%d", i), "number": 0,
			"stamps_us": []int64{1000, 7000, 13000}, "last": map[string]any{"chunks": 1, "stamps": 3},
		})
	}
	return given
}

var (
	// The server of net/http may have read the first letter by itself.
	requestRead   = regexp.MustCompile(`read(\(.*| resumed>)"(P?OST|P?UT) /api/`)
	syncDone      = regexp.MustCompile(`f(data)?sync\(.*\) += 0|<\.\.\. f(data)?sync resumed>\) += 0`)
	answerWritten = regexp.MustCompile(`write\(.*"HTTP/1\.1 20[01]`)
)

// checkTrace walks through the calls and returns how many orders were answered.
func checkTrace(t *testing.T, path string) int {
	t.Helper()
	f, err := os.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	answered, synced, pending := 0, false, false
	lines := bufio.NewScanner(f)
	lines.Buffer(nil, 1<<20)
	for lines.Scan() {
		text := lines.Text()
		switch {
		case requestRead.MatchString(text):
			pending, synced = true, false
		case pending && syncDone.MatchString(text):
			synced = true
		case pending && answerWritten.MatchString(text):
			answered++
			if !synced {
				t.Errorf("an answer left before its sync: %s", strings.TrimSpace(text))
			}
			pending = false
		}
	}
	if err := lines.Err(); err != nil {
		t.Fatal(err)
	}
	return answered
}
