package main

import (
	"bytes"
	"context"
	"fmt"
	"log/slog"
	"net/http"
	"path/filepath"
	"slices"
	"strings"
	"sync/atomic"
	"testing"
	"time"

	"benchmeet/api/auth"
	"benchmeet/api/gen"
	"benchmeet/api/store"
	"benchmeet/domain/journal"
)

// shifted is a machine's clock that a test sets.
type shifted struct{ by atomic.Int64 }

func (c *shifted) set(by time.Duration) { c.by.Store(int64(by)) }

func (c *shifted) now() time.Time { return time.Now().Round(0).Add(time.Duration(c.by.Load())) }

const year = 365 * 24 * time.Hour

func (w *wired) decisions() map[string]gen.Decision {
	w.t.Helper()
	var list gen.DecisionList
	w.get(meetPath+"/decisions", &list)
	out := map[string]gen.Decision{}
	for _, d := range list.Decisions {
		out[d.Kind] = d
	}
	return out
}

// raceHeatOf calls, starts and measures a heat of the small meet.
func (w *wired) raceHeatOf(id, boot string) {
	w.t.Helper()
	h := w.heat(id)
	for _, l := range h.Lanes {
		w.do("POST", meetPath+"/heats/"+id+"/ready", fmt.Sprintf(`{"bench":%q,"start_number":%d}`, *l.Bench, l.Racer.StartNumber))
	}
	w.do("POST", meetPath+"/heats/"+id+"/start", "")
	for i, l := range w.heat(id).Lanes {
		if a := w.sendRun(*l.Bench, *l.Armed, fmt.Sprintf("%s%d", boot, i), 6000+int64(i)*700); a.status != http.StatusOK {
			w.t.Fatalf("%s: %d %s", id, a.status, a.body)
		}
	}
	w.within(10*time.Second, func() bool { return w.heat(id).Phase == "provisional" })
}

func (w *wired) within(d time.Duration, is func() bool) {
	w.t.Helper()
	for end := time.Now().Add(d); !is(); time.Sleep(50 * time.Millisecond) {
		if time.Now().After(end) {
			w.t.Fatal("it did not come about")
		}
	}
}

func (w *wired) rule(kind string) answer {
	w.t.Helper()
	return w.send(request{role: auth.Organiser, method: "POST", path: meetPath + "/rulings", body: `{"kind":"` + kind + `","reason":{"code":"power"}}`})
}

// TestAClockAYearAhead plays a day that is set up, and races its first heat, by a clock a
// year ahead. Then the clock is right. One ruling, and the day goes on: protest times
// end, later events are of the right time, the order of the log is as it was, and a
// restart and the check of the log find the same day.
func TestAClockAYearAhead(t *testing.T) {
	databases(t, func(t *testing.T, database string) {
		var clock shifted
		clock.set(year)
		data := filepath.Join(t.TempDir(), "data")
		w := newWired(t, database, func(o *serverOptions) { o.Clock, o.Data = clock.now, data })
		w.smallMeetWith(`,"rules":{"protest_s":2,"call_s":60,"reruns_per_entry":1,"tie":"next-best","did_not_finish":"keep-distance",
			"benches":"report","late":"no","hand_counts":"ranks"}`)
		if a := w.rule("set-clock"); a.problem.Code != "clock-right" {
			t.Errorf("a ruling while nothing is wrong: %d %s", a.status, a.body)
		}
		w.raceHeatOf("open-1.1.1", "00000000000000a")
		clock.set(0)
		ahead := w.decisions()["clock-ahead"]
		if s := time.Duration(*ahead.AheadS) * time.Second; (s - year).Abs() > time.Minute {
			t.Errorf("the desk is told %v", s)
		}
		// Without the ruling nothing ends. The second heat is called by the frozen time.
		w.do("POST", meetPath+"/heats/open-1.1.2/call", `{"benches":["b1","b2"]}`)
		time.Sleep(2500 * time.Millisecond)
		if until := *w.heat("open-1.1.1").ProtestUntil; time.Until(until) < year-time.Hour {
			t.Fatalf("the protest time ends %v: the clock was not ahead", until)
		}
		lines := w.log()
		if a := w.rule("set-clock"); a.status != http.StatusOK {
			t.Fatalf("the ruling: %d %s", a.status, a.body)
		}
		if after := w.log(); !slices.Equal(after[:len(lines)], lines) || len(after) != len(lines)+1 {
			t.Error("what stood in the log is another now")
		}
		if _, still := w.decisions()["clock-ahead"]; still {
			t.Error("the desk is still told that the clock is ahead")
		}
		w.raceHeatOf("open-1.1.2", "00000000000000b")
		for _, id := range []string{"open-1.1.1", "open-1.1.2"} {
			if until := *w.heat(id).ProtestUntil; time.Until(until).Abs() > time.Minute {
				t.Errorf("the protest time of %s ends %v", id, until)
			}
		}
		time.Sleep(2500 * time.Millisecond) // the protest time
		if a := w.send(request{
			role: auth.Organiser, method: "POST", path: meetPath + "/protests",
			body: `{"id":"late","heat":"open-1.1.1","entry":"e1","reason":{"code":"protest"}}`,
		}); a.status < 400 {
			t.Errorf("a protest after its time: %d %s", a.status, a.body)
		}
		w.do("POST", meetPath+"/divisions/open/close", `{}`)
		var last time.Time
		for _, e := range w.events() {
			at := time.UnixMicro(e.Time)
			if e.Type != "ClockSet" && at.Before(last) {
				t.Errorf("%s is of %v, after %v", e.Type, at, last)
			}
			last = at
		}
		if time.Since(last).Abs() > time.Minute {
			t.Errorf("the last event is of %v", last)
		}
		w.sameAfterRestart(database, data, &clock)
	})
}

// events are those of the meet's log.
func (w *wired) events() (out []journal.Envelope) {
	w.t.Helper()
	err := w.server.store.Read(w.t.Context(), store.MeetStream("harbour", "spring"), 0, func(r journal.Record) error {
		e, err := r.Open()
		out = append(out, e)
		return err
	})
	if err != nil {
		w.t.Fatal(err)
	}
	return out
}

// log is the meet's log, line by line.
func (w *wired) log() []string {
	a := w.send(request{method: "GET", path: meetPath + "/log"})
	return strings.Split(strings.TrimSpace(string(a.body)), "\n")
}

// sameAfterRestart starts another server on the data and finds the same day, sound.
func (w *wired) sameAfterRestart(database, data string, clock *shifted) {
	w.t.Helper()
	heats := string(w.send(request{method: "GET", path: meetPath + "/heats"}).body)
	if err := w.server.Close(); err != nil {
		w.t.Fatal(err)
	}
	args := []string{"verify", "--data", data}
	if database != "" {
		args = []string{"verify", "--database", database}
	}
	if code, out, said := runHere(w.t.(*testing.T), args...); code != exitDone {
		w.t.Errorf("verify: %d %s %s", code, out, said)
	}
	again, err := startServer(context.Background(), serverOptions{
		Listen: "127.0.0.1:0", Data: data, Database: database, Scale: 1, Clock: clock.now, Club: w.server.options.Club,
	})
	if err != nil {
		w.t.Fatal(err)
	}
	w.server = again
	if got := string(w.send(request{method: "GET", path: meetPath + "/heats"}).body); got != heats {
		w.t.Errorf("after a restart\n%s\nbefore\n%s", got, heats)
	}
	w.t.Cleanup(func() { _ = again.Close() })
}

// TestKeysOfAClockThatWasAhead: keys from before look over while the clock is a year
// ahead, and are good again when it is right; a start of the server meanwhile gives the
// organiser a way in. Keys and sessions of that time go on to open, and after the ruling
// end when they were meant to.
func TestKeysOfAClockThatWasAhead(t *testing.T) {
	databases(t, func(t *testing.T, database string) {
		var clock shifted
		w := newWired(t, database, func(o *serverOptions) { o.Clock, o.Data = clock.now, t.TempDir() })
		w.smallMeet()
		opens := func(token string) bool {
			return w.send(request{token: token, method: http.MethodGet, path: "/api/v1/benches/b1/order"}).status == http.StatusOK
		}
		before := w.tokens[auth.Volunteer]
		clock.set(year)
		if opens(before) || opens(w.tokens[auth.Organiser]) {
			t.Fatal("a key of last year opens: the clock is not ahead")
		}
		link, made, err := w.server.signIn(t.Context(), false)
		if err != nil || !made {
			t.Fatalf("a start gives nobody a way in: %v", err)
		}
		cookie, _, _, err := w.server.tokens.Exchange(t.Context(), "harbour", link, "")
		must(t, err)
		_, phone, err := w.server.tokens.Make(t.Context(), auth.Wish{
			Club: "harbour", Role: auth.Volunteer, Label: "phone", Benches: []string{"b1"},
		})
		must(t, err)
		secret, _, err := w.server.tokens.Make(t.Context(), auth.Wish{
			Club: "harbour", Role: auth.Organiser, Label: "chosen end", Expires: clock.now().Add(3 * time.Hour),
		})
		must(t, err)
		w.tokens[auth.Organiser] = secret
		w.tokens[auth.Box], _, err = w.server.tokens.Make(t.Context(), auth.Wish{
			Club: "harbour", Role: auth.Box, Label: "box", Benches: []string{"b1", "b2"},
		})
		must(t, err)
		w.raceHeatOf("open-1.1.1", "00000000000000a")

		clock.set(0)
		if !opens(before) || !opens(secret) {
			t.Error("a key does not open by the right clock")
		}
		if _, err := w.server.tokens.Browser(t.Context(), cookie); err != nil {
			t.Errorf("a browser that was signed in is out: %v", err)
		}
		for range 2 { // the second finds nothing to set back
			if a := w.rule("set-clock"); a.status != http.StatusOK && a.problem.Code != "clock-right" {
				t.Fatalf("the ruling: %d %s", a.status, a.body)
			}
		}
		if !opens(before) || !opens(secret) {
			t.Error("a key does not open after the ruling")
		}
		if _, err := w.server.tokens.Browser(t.Context(), cookie); err != nil {
			t.Errorf("a browser is out after the ruling: %v", err)
		}
		all, err := w.server.store.AllTokens(t.Context(), "harbour")
		must(t, err)
		for _, token := range all {
			last := map[string]time.Duration{phone.ID: 36 * time.Hour}[token.ID]
			if token.Label == "chosen end" {
				last = 3 * time.Hour
			}
			if ends := time.Until(time.UnixMicro(auth.EndOf(token))); last > 0 && (ends-last).Abs() > time.Minute || ends > year+time.Hour {
				t.Errorf("%s ends in %v", token.Label, ends)
			}
			if time.UnixMicro(token.CreatedUS).After(time.Now()) {
				t.Errorf("%s is made tomorrow", token.Label)
			}
		}
	})
}

// TestAClockThatJumpsIsNoticed: ahead and back, while the server runs; and at a start,
// where the newest event is later than the clock.
func TestAClockThatJumpsIsNoticed(t *testing.T) {
	var clock shifted
	var log heard
	data := t.TempDir()
	w := newWired(t, "", func(o *serverOptions) {
		o.Clock, o.Data, o.Log = clock.now, data, slog.New(slog.NewTextHandler(&log, nil))
	})
	w.smallMeet()
	if _, said := w.decisions()["clock-jumped"]; said {
		t.Error("the desk is told of a jump before there was one")
	}
	for _, by := range []time.Duration{48 * time.Hour, -year} {
		before, _ := w.server.jumps.latest()
		clock.set(time.Duration(clock.by.Load()) + by)
		w.within(10*time.Second, func() bool { now, some := w.server.jumps.latest(); return some && now != before })
		got, _ := w.server.jumps.latest()
		if (got.by - by).Abs() > time.Second {
			t.Errorf("the clock went %v, noticed is %v", by, got.by)
		}
		if said := w.decisions()["clock-jumped"]; said.Since == nil || !said.Since.Equal(got.at) {
			t.Errorf("the clock went %v, and the desk is told %+v", by, said)
		}
	}
	if n := strings.Count(log.String(), "clock has jumped"); n != 2 {
		t.Errorf("said %d times: %s", n, log.String())
	}
	clock.set(-48 * time.Hour)
	var out bytes.Buffer
	if err := w.server.sayIfAhead(t.Context(), &out); err != nil || !strings.Contains(out.String(), "set the day's times right") {
		t.Errorf("a clock behind the log: %q %v", out.String(), err)
	}
	clock.set(0)
	out.Reset()
	if err := w.server.sayIfAhead(t.Context(), &out); err != nil || out.Len() > 0 {
		t.Errorf("a clock that is right: %q %v", out.String(), err)
	}
}
