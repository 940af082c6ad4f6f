package main

import (
	"context"
	"io"
	"log/slog"
	"net/http"
	"net/http/httptest"
	"strings"
	"sync/atomic"
	"testing"
	"time"

	"benchmeet/api/auth"
)

// plainly asks for a page of care as somebody at an address.
func (w *wired) plainly(path, from string, header ...string) (int, string) {
	w.t.Helper()
	r := httptest.NewRequest(http.MethodGet, path, nil)
	r.RemoteAddr = from
	for i := 0; i < len(header); i += 2 {
		r.Header.Set(header[i], header[i+1])
	}
	out := httptest.NewRecorder()
	w.server.http.Handler.ServeHTTP(out, r)
	body, _ := io.ReadAll(out.Result().Body)
	return out.Code, string(body)
}

// TestWhoSeesHowTheServerDoes: anybody whether it is up and ready, its figures the
// organiser and this machine alone.
func TestWhoSeesHowTheServerDoes(t *testing.T) {
	w := newWired(t, "")
	w.smallMeet()
	const here, there = "127.0.0.1:4000", "192.0.2.9:4000"
	for _, tt := range []struct {
		path, from string
		header     []string
		want       int
	}{
		{"/healthz", there, nil, 200},
		{"/readyz", there, nil, 200},
		{"/metrics", here, nil, 200},
		{"/metrics", "[::1]:4000", nil, 200},
		{"/metrics", there, nil, 401},
		{"/metrics", here, []string{"X-Forwarded-For", "192.0.2.9"}, 401}, // a proxy on this machine asks for others
		{"/metrics", there, []string{"X-Forwarded-For", "127.0.0.1"}, 401},
		{"/metrics", there, []string{"Authorization", "Bearer " + w.tokens[auth.Official]}, 403},
		{"/metrics", there, []string{"Authorization", "Bearer " + w.tokens[auth.Box]}, 403},
		{"/metrics", there, []string{"Authorization", "Bearer " + w.tokens[auth.Organiser]}, 200},
	} {
		if got, body := w.plainly(tt.path, tt.from, tt.header...); got != tt.want {
			t.Errorf("%s from %s %.30q: %d, want %d: %.80s", tt.path, tt.from, tt.header, got, tt.want, body)
		}
	}
	_, figures := w.plainly("/metrics", here)
	for _, part := range []string{
		`benchmeet_requests_total{method="POST",route="/api/v1/meets/:meet/entries",status="201"} 4`,
		"benchmeet_request_seconds_bucket", "benchmeet_live_listeners 0", "go_goroutines", "process_resident_memory_bytes",
	} {
		if !strings.Contains(figures, part) {
			t.Errorf("the figures lack %s", part)
		}
	}
	for _, secret := range []string{"spring", "Quay", "e1", w.tokens[auth.Organiser]} {
		if strings.Contains(figures, `"`+secret) {
			t.Errorf("the figures hold %q", secret)
		}
	}
}

// TestNotReady: without its database, and while work rests after a fault; up all the
// same.
func TestNotReady(t *testing.T) {
	w := newWired(t, "")
	const from = "192.0.2.9:4000"
	w.server.beside.set("sweeping", io.ErrUnexpectedEOF)
	if code, says := w.plainly("/readyz", from); code != 503 || !strings.Contains(says, "sweeping") || strings.Contains(says, "EOF") {
		t.Errorf("while work rests: %d %s", code, says)
	}
	w.server.beside.set("sweeping", nil)
	if code, says := w.plainly("/readyz", from); code != 200 {
		t.Errorf("when it goes on: %d %s", code, says)
	}
	broken := newWired(t, "")
	if err := broken.server.Close(); err != nil {
		t.Fatal(err)
	}
	if code, says := broken.plainly("/readyz", from); code != 503 || !strings.Contains(says, "database") {
		t.Errorf("without a database: %d %s", code, says)
	}
	if code, _ := broken.plainly("/healthz", from); code != 200 {
		t.Errorf("up without a database: %d", code)
	}
}

// TestWorkBesideIsWatched: a fault of the program is reported and counted, the work is
// begun again, and the end waits for it.
func TestWorkBesideIsWatched(t *testing.T) {
	var log heard
	w := newWired(t, "", func(o *serverOptions) { o.Log = slog.New(slog.NewTextHandler(&log, nil)) })
	var begun, ended atomic.Int32
	w.server.task("knitting", func(ctx context.Context) {
		if begun.Add(1) == 1 {
			panic("a dropped stitch")
		}
		<-ctx.Done()
		time.Sleep(300 * time.Millisecond)
		ended.Add(1)
	})
	w.within(2*time.Second, func() bool { return len(w.server.beside.resting()) == 1 })
	w.within(5*time.Second, func() bool { return begun.Load() == 2 && len(w.server.beside.resting()) == 0 })
	if said := log.String(); !strings.Contains(said, "knitting") || !strings.Contains(said, "a dropped stitch") {
		t.Errorf("the log says %s", said)
	}
	if _, figures := w.plainly("/metrics", "127.0.0.1:1"); !strings.Contains(figures, `benchmeet_work_faults_total{work="knitting"} 1`) {
		t.Error("the fault is not counted")
	}
	if err := w.server.Close(); err != nil {
		t.Fatal(err)
	}
	if ended.Load() != 1 {
		t.Error("the server ended before its work")
	}
}

// TestRequestsAreLoggedWithoutWhatIsInThem: route, status and time, and no token, name,
// text, id or query, whatever it was asked for.
func TestRequestsAreLoggedWithoutWhatIsInThem(t *testing.T) {
	for _, all := range []bool{false, true} {
		var log heard
		w := newWired(t, "", func(o *serverOptions) {
			o.Log, o.LogRequests = slog.New(slog.NewTextHandler(&log, nil)), all
		})
		w.smallMeet()
		w.send(request{method: "POST", path: "/api/v1/session", body: `{"token":"secret-that-opens-nothing"}`})
		w.send(request{method: "GET", path: "/api/v1/people", token: "another-secret"})
		w.send(request{method: "GET", path: meetPath + "/heats?at_least=1&note=querysecret"})
		w.send(request{
			role: auth.Official, method: "POST", path: meetPath + "/rulings",
			body: `{"kind":"void","heat":"open-1.1.1","reason":{"code":"power","text":"Child 1 Quay fainted"}}`,
		})
		said := log.String()
		for _, secret := range []string{
			"secret", "Quay", "Nick", "fainted", "spring", "open-1.1.1", "at_least", "Bearer",
			w.tokens[auth.Organiser], w.tokens[auth.Official],
		} {
			if strings.Contains(said, secret) {
				t.Errorf("all is %v: the log holds %q", all, secret)
			}
		}
		if !strings.Contains(said, "route=/api/v1/session method=POST status=401") {
			t.Errorf("all is %v: a failed sign-in is not in the log: %s", all, said)
		}
		if got := strings.Contains(said, "route=/api/v1/meets/:meet/heats method=GET status=200"); got != all {
			t.Errorf("all is %v: a request that was answered is in the log: %v", all, got)
		}
	}
}
