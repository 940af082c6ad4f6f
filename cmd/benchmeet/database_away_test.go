package main

import (
	"net/http"
	"strings"
	"testing"
	"time"

	"benchmeet/api/auth"
	"benchmeet/api/store"
	"benchmeet/api/store/postgres/pgtest"
)

// TestAServerLosesItsDatabaseForAWhile: it says so to who orders, to the question of
// readiness and at the desk, goes on showing the day, and comes back by itself; the order
// that nobody acknowledged is carried out once. The other server on the database follows
// again.
func TestAServerLosesItsDatabaseForAWhile(t *testing.T) {
	database := pgtest.Own(t)
	link, through := toDatabase(t, database)
	w, other := newWired(t, through), newWired(t, through)
	w.smallMeet()
	for n, fault := range []struct {
		name        string
		broken, end func()
	}{
		{"crashed", database.Crash, database.Start},
		{"refused", func() { link.set(refused) }, func() { link.set(whole) }},
		{"silent", func() { link.set(silent) }, func() { link.set(whole) }},
	} {
		t.Run(fault.name, func(t *testing.T) {
			fault.broken()
			pause := request{
				role: auth.Organiser, method: "POST", path: meetPath + "/pause", body: `{"reason":{"code":"lunch"}}`,
				key: "01890000-0000-7000-9000-00000000000" + string(rune('0'+n)),
			}
			no := w.send(pause)
			if no.status != http.StatusServiceUnavailable || no.problem.Code != "database-away" || no.header.Get("Retry-After") == "" {
				t.Errorf("an order: %d %s", no.status, no.body)
			}
			if code, says := w.plainly("/readyz", "192.0.2.9:4000"); code != http.StatusServiceUnavailable || !strings.Contains(says, "database") {
				t.Errorf("ready: %d %s", code, says)
			}
			if code, _ := w.plainly("/healthz", "192.0.2.9:4000"); code != http.StatusOK {
				t.Errorf("up: %d", code)
			}
			if a := w.send(request{method: "GET", path: meetPath + "/board"}); a.status != http.StatusOK {
				t.Errorf("a screen: %d %s", a.status, a.body)
			}
			fault.end()
			w.within(15*time.Second, func() bool { return w.send(pause).status == http.StatusOK })
			if code, says := w.plainly("/readyz", "192.0.2.9:4000"); code != http.StatusOK {
				t.Errorf("ready afterwards: %d %s", code, says)
			}
			if _, told := w.decisions()["database-away"]; !told {
				t.Error("the desk is not told")
			}
			w.do("POST", meetPath+"/resume", "")
			want := w.position()
			other.within(15*time.Second, func() bool {
				m, err := other.server.meets.At(t.Context(), store.MeetStream("harbour", "spring"), 0)
				return err == nil && strings.Contains(want, m.Head.Hash.String())
			})
		})
	}
}
