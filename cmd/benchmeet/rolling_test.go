package main

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"math/rand/v2"
	"net/http"
	"os"
	"strings"
	"testing"
	"time"

	"github.com/google/uuid"

	"benchmeet/api/gen"
	"benchmeet/api/ledger"
	"benchmeet/api/store/postgres/pgtest"
	"benchmeet/domain/journal"
)

// What makes the program in a process of its own one of an earlier version, and one that beats
// more often.
const (
	runEarlier = "BENCHMEET_TEST_EARLIER"
	runBeat    = "BENCHMEET_TEST_BEAT"
)

func beSometimesEarlier() {
	if os.Getenv(runEarlier) == "1" {
		m := models{meets: ledger.Meets(), clubs: ledger.Clubs()}
		earlier(&m.meets)
		earlier(&m.clubs)
		knownModels = &m
	}
	if text := os.Getenv(runBeat); text != "" {
		var err error
		if beatEvery, err = time.ParseDuration(text); err != nil {
			panic(err)
		}
	}
}

// unknownBefore is a kind of event that the earlier version does not know at all.
const unknownBefore = "AdultsCounted"

// earlier makes a model that of a program which knew version 1 of each event and refuses what
// came later.
func earlier[S any, C any, E ledger.Fact](m *ledger.Model[S, C, E]) {
	decode := m.Decode
	kinds := m.Kinds
	m.Kinds = func() (out []string) {
		for _, kind := range kinds() {
			if kind != unknownBefore {
				out = append(out, kind)
			}
		}
		return out
	}
	m.Version = func(string) int { return 1 }
	m.Decode = func(kind string, version int, data []byte) (E, error) {
		if version > 1 || kind == unknownBefore {
			var none E
			return none, fmt.Errorf("version %d of %s: %w", version, kind, journal.ErrLater)
		}
		return decode(kind, version, data)
	}
}

// hall are two servers on one database, the second of an earlier version.
type hall struct {
	*history
	ctx      context.Context
	rng      *rand.Rand
	now, old *victim
}

func newHall(t *testing.T) *hall {
	t.Helper()
	ctx, cancel := context.WithTimeout(t.Context(), 3*time.Minute)
	t.Cleanup(cancel)
	t.Setenv(runBeat, "1s") // who is starved for some seconds is not taken for dead
	now := newVictim(t, pgtest.Database(t))
	old := &victim{t: t, secret: now.secret, env: []string{runEarlier + "=1"}}
	port := freePort(t)
	old.base = fmt.Sprintf("http://127.0.0.1:%d", port)
	old.args = append([]string{}, now.args...)
	old.args[2] = fmt.Sprintf("127.0.0.1:%d", port)
	old.start()
	t.Cleanup(old.kill)
	h := &hall{history: newHistory(t, now.secret, now.base), ctx: ctx, rng: rand.New(rand.NewPCG(17, 3)), now: now, old: old}
	for _, meet := range []string{"spring", "autumn"} {
		h.give(ctx, h.rng, "POST", meet, "-", planned(meet))
		h.give(ctx, h.rng, "PUT", meet, "/divisions/open", openDivision())
		for n := range 4 {
			id := fmt.Sprintf("e-%d", n+1)
			h.give(ctx, h.rng, "POST", meet, "/entries", gen.TakeEntry{
				Id: &id, Division: "open", StartNumber: n + 1,
				Person: &gen.PersonBody{Name: fmt.Sprintf("Child %d Quay", n), DisplayName: fmt.Sprintf("Nick %d", n)},
			})
		}
	}
	return h
}

// leaveAndComeBack has an entry of a meet leave and come back: two events that have changed.
func (h *hall) leaveAndComeBack(meet string) {
	h.t.Helper()
	for _, kind := range []string{"withdraw", "reinstate"} {
		h.give(h.ctx, h.rng, "POST", meet, "/rulings", map[string]any{
			"kind": kind, "entry": "e-2", "reason": map[string]string{"code": "family"},
		})
	}
}

// versions are those of the last two events of a meet, as a server tells its log.
func (h *hall) versions(base, meet string) string {
	h.t.Helper()
	var all []string
	for line := range bytes.Lines(h.page(h.ctx, base, "/api/v1/meets/"+meet+"/log")) {
		var l struct{ Event journal.Envelope }
		if err := json.Unmarshal(line, &l); err != nil {
			h.t.Fatal(err)
		}
		all = append(all, fmt.Sprintf("%s %d", l.Event.Type, l.Event.V))
	}
	return strings.Join(all[max(0, len(all)-2):], ", ")
}

// try gives an order once and returns the status and the refusal.
func (h *hall) try(base, method, path, id string, body any) (int, gen.Problem) {
	h.t.Helper()
	text, err := json.Marshal(body)
	if err != nil {
		h.t.Fatal(err)
	}
	r, err := http.NewRequestWithContext(h.ctx, method, base+path, bytes.NewReader(text))
	if err != nil {
		h.t.Fatal(err)
	}
	r.Header.Set("Content-Type", "application/json")
	r.Header.Set("Idempotency-Key", id)
	r.Header.Set("Authorization", "Bearer "+h.secret)
	res, err := h.http.Do(r)
	if err != nil {
		h.t.Fatal(err)
	}
	defer res.Body.Close()
	var p gen.Problem
	_ = json.NewDecoder(res.Body).Decode(&p) // a receipt is none
	return res.StatusCode, p
}

const (
	inVersion1 = "EntryWithdrawn 1, EntryReinstated 1"
	inVersion2 = "EntryWithdrawn 2, EntryReinstated 2"
)

// TestRollingRestart: as long as a server of an earlier version runs on the database, every
// server writes what that one reads, and both show the same; what it could not read is refused
// in words and changes nothing. When it is gone, by a stop or by a kill, the versions of today
// are written. Started again, it refuses the meet that it cannot read and carries on the other,
// for which the old versions are written again.
func TestRollingRestart(t *testing.T) {
	for name, end := range map[string]func(*victim){"stopped": (*victim).end, "killed": (*victim).kill} {
		t.Run(name, func(t *testing.T) {
			h := newHall(t)
			both := []string{h.now.base, h.old.base}
			const adults, pages = "/api/v1/meets/spring/day-plan/adults", "/divisions/open/standings"

			h.leaveAndComeBack("spring")
			if got := h.versions(h.now.base, "spring"); got != inVersion1 {
				t.Fatalf("beside an earlier server the newer one writes %s", got)
			}
			h.bases = []string{h.old.base}
			h.leaveAndComeBack("spring")
			h.bases = both
			if got := h.versions(h.now.base, "spring"); got != inVersion1 {
				t.Fatalf("the earlier server writes %s", got)
			}
			h.agree(h.ctx, both, "spring", "/entries", pages)

			before := h.page(h.ctx, h.now.base, "/api/v1/meets/spring/log")
			id := uuid.Must(uuid.NewV7()).String()
			status, no := h.try(h.now.base, "POST", adults, id, gen.CountAdults{Adults: 3})
			if status != http.StatusServiceUnavailable || no.Code != "server-earlier" ||
				!strings.Contains(no.Detail, "still runs an earlier version") {
				t.Errorf("what the earlier server does not know: %d %+v", status, no)
			}
			if after := h.page(h.ctx, h.old.base, "/api/v1/meets/spring/log"); !bytes.Equal(before, after) {
				t.Error("what was refused has changed the log")
			}
			h.agree(h.ctx, both, "spring", "/entries", pages)

			end(h.old)
			h.bases = []string{h.now.base}
			if name == "killed" {
				h.leaveAndComeBack("spring")
				if got := h.versions(h.now.base, "spring"); got != inVersion1 {
					t.Errorf("right after the kill, when nobody knows of it, %s is written", got)
				}
			}
			for until := time.Now().Add(time.Minute); ; time.Sleep(300 * time.Millisecond) {
				h.leaveAndComeBack("spring")
				if h.versions(h.now.base, "spring") == inVersion2 {
					break
				}
				if time.Now().After(until) {
					t.Fatalf("the earlier server is gone, and %s is written", h.versions(h.now.base, "spring"))
				}
			}
			h.agree(h.ctx, h.bases, "spring", "/entries", pages)
			if status, no = h.try(h.now.base, "POST", adults, id, gen.CountAdults{Adults: 3}); status != http.StatusOK {
				t.Errorf("the order that was refused, again: %d %+v", status, no)
			}

			h.old.start()
			status, no = h.try(h.old.base, "POST", "/api/v1/meets/spring/pause", uuid.Must(uuid.NewV7()).String(), map[string]any{
				"reason": map[string]string{"code": "lunch"},
			})
			if status != http.StatusServiceUnavailable || no.Code != "log-later" || !strings.Contains(no.Detail, "later version of the program") {
				t.Errorf("an order to the meet that it cannot read: %d %+v", status, no)
			}
			if text, status, err := h.get(h.ctx, h.old.base+"/api/v1/meets/spring"); err != nil ||
				status != http.StatusServiceUnavailable || !bytes.Contains(text, []byte("log-later")) {
				t.Errorf("the meet that it cannot read: %d %s %v", status, text, err)
			}
			h.bases = both
			h.leaveAndComeBack("autumn")
			if got := h.versions(h.now.base, "autumn"); got != inVersion1 {
				t.Errorf("with the earlier server back, %s is written", got)
			}
			h.agree(h.ctx, both, "autumn", "/entries", pages)
		})
	}
}
