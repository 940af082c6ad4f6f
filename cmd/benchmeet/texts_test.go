package main

import (
	"database/sql"
	"fmt"
	"net/http"
	"strings"
	"testing"

	"benchmeet/api/auth"
	"benchmeet/api/gen"
)

// raceFirst races the first heat: car 1 or 2 first, both results posted.
func (w *wired) raceFirst() gen.Heat {
	w.t.Helper()
	h := w.startFirstHeat()
	for i, l := range h.Lanes {
		w.sendStamps(*l.Bench, *l.Armed, "00000000000000aa", fading(uint64(i+1), 6000+600*float64(i)))
	}
	return h
}

// raceHeat calls a heat and races it.
func (w *wired) raceHeat(id string) {
	w.t.Helper()
	w.do("POST", meetPath+"/heats/"+id+"/call", `{"benches":["b1","b2"]}`)
	for _, l := range w.heat(id).Lanes {
		w.do("POST", meetPath+"/heats/"+id+"/ready", fmt.Sprintf(`{"bench":%q,"start_number":%d}`, *l.Bench, l.Racer.StartNumber))
	}
	w.do("POST", meetPath+"/heats/"+id+"/start", "")
	for i, l := range w.heat(id).Lanes {
		w.sendStamps(*l.Bench, *l.Armed, "00000000000000aa", fading(uint64(i+1), 6000+600*float64(i)))
	}
}

// TestEveryTextGoesWithItsChild: texts of every kind of order that names a child, or is
// about its heat, its run, its protest or its division, are gone with it; what is about
// others stays, and nothing is written about it later.
func TestEveryTextGoesWithItsChild(t *testing.T) {
	databases(t, func(t *testing.T, database string) {
		w := newWired(t, database)
		w.smallMeet()
		h := w.raceFirst()
		child, other := h.Lanes[0], h.Lanes[1]
		texts := 0
		why := func() string {
			texts++
			return fmt.Sprintf(`"reason":{"code":"other","text":"Seegras text %d"}`, texts)
		}
		ruling := func(body string) {
			t.Helper()
			w.do("POST", meetPath+"/rulings", body)
		}
		w.do("POST", meetPath+"/protests", fmt.Sprintf(`{"id":"own","heat":%q,"entry":%q,%s}`, h.Id, child.Racer.Entry, why()))
		w.do("POST", meetPath+"/protests", fmt.Sprintf(`{"id":"any","heat":%q,%s}`, h.Id, why()))
		w.do("POST", meetPath+"/protests/own/ruling", `{"upheld":false,`+why()+`}`)
		ruling(fmt.Sprintf(`{"kind":"swap","heat":%q,"entry":%q,"other":%q,%s}`, h.Id, other.Racer.Entry, child.Racer.Entry, why()))
		ruling(fmt.Sprintf(`{"kind":"swap","heat":%q,"entry":%q,"other":%q,%s}`, h.Id, other.Racer.Entry, child.Racer.Entry, why()))
		ruling(fmt.Sprintf(`{"kind":"penalise","heat":%q,"entry":%q,"penalty_m":1,%s}`, h.Id, child.Racer.Entry, why()))
		w.sendRun(*child.Bench, *child.Armed, "00000000000000bb", 7000) // its lane has a run: it waits
		ruling(fmt.Sprintf(`{"kind":"set-aside","run":"%s.00000000000000bb",%s}`, *child.Armed, why()))
		w.sendRun("b1", "nobody", "00000000000000aa", 7000)
		nobody := w.send(
			request{
				role: auth.Organiser, method: "POST", path: meetPath + "/rulings",
				body: `{"kind":"set-aside","run":"nobody","reason":{"code":"other","text":"Somebody played"}}`,
			},
		)
		if nobody.status != http.StatusConflict || nobody.problem.Code != "text-about-unknown" {
			t.Errorf("a text about nobody knows whom: %d %s", nobody.status, nobody.body)
		}
		ruling(fmt.Sprintf(`{"kind":"set-aside","run":"nobody","entry":%q,%s}`, child.Racer.Entry, why()))
		// An order that changes nothing leaves no text that nobody could find.
		ruling(fmt.Sprintf(`{"kind":"set-aside","run":"nobody","entry":%q,"reason":{"code":"other","text":"Seegras again"}}`, child.Racer.Entry))
		ruling(fmt.Sprintf(`{"kind":"void","heat":%q,%s}`, h.Id, why()))
		w.do("PUT", "/api/v1/benches/b1", `{"number":1,"circumference_mm":95}`)
		w.do("PUT", "/api/v1/meets/spring/benches/b1", "")
		w.do("POST", meetPath+"/benches/b1/measure-again", `{`+why()+`}`)
		third := ""
		for _, id := range []string{"e1", "e2", "e3", "e4"} {
			if id != child.Racer.Entry && id != other.Racer.Entry {
				third = id
			}
		}
		w.do(
			"POST", meetPath+"/rulings", fmt.Sprintf(`{"kind":"withdraw","entry":%q,"reason":{"code":"family","text":"Somebody else left"}}`, third),
		)

		kept, err := w.server.store.AllTexts(t.Context(), "harbour")
		if err != nil || len(kept) != texts+1 {
			t.Fatalf("%d texts are kept, want %d (%v)", len(kept), texts+1, err)
		}
		var entries gen.EntryList
		w.get(meetPath+"/entries", &entries)
		entrant := ""
		for _, e := range entries.Entries {
			if e.Id == child.Racer.Entry {
				entrant = *e.Entrant
			}
		}
		w.do("DELETE", "/api/v1/people/"+entrant, "")
		left, err := w.server.store.AllTexts(t.Context(), "harbour")
		if err != nil || len(left) != 1 || left[0].Text != "Somebody else left" {
			t.Errorf("after the erasure the texts are %+v (%v)", left, err)
		}
		for _, path := range []string{"/rulings", "/protests"} {
			a := w.send(request{role: auth.Organiser, method: "GET", path: meetPath + path})
			if strings.Contains(string(a.body), "Seegras") {
				t.Errorf("%s still has a text about the child: %s", path, a.body)
			}
		}
		before := w.position()
		later := w.send(
			request{
				role: auth.Organiser, method: "POST", path: meetPath + "/rulings",
				body: fmt.Sprintf(`{"kind":"disqualify","entry":%q,%s}`, child.Racer.Entry, why()),
			},
		)
		if later.status != http.StatusConflict || later.problem.Code != "text-erased" || w.position() != before {
			t.Errorf("a later text about the child: %d %s", later.status, later.body)
		}
		w.do("POST", meetPath+"/rulings", fmt.Sprintf(`{"kind":"disqualify","entry":%q,"reason":{"code":"other"}}`, child.Racer.Entry))
	})
}

// TestTextsOfBeforeGoToo: a text that was written when only one child was noted, or
// none, is found by the log when another child that it is about is erased.
func TestTextsOfBeforeGoToo(t *testing.T) {
	w := newWired(t, "")
	w.smallMeet()
	h := w.raceFirst()
	child, other := h.Lanes[0].Racer.Entry, h.Lanes[1].Racer.Entry
	w.do(
		"POST", meetPath+"/rulings",
		fmt.Sprintf(`{"kind":"swap","heat":%q,"entry":%q,"other":%q,"reason":{"code":"other","text":"Seegras was swapped"}}`, h.Id, other, child),
	)
	w.do(
		"POST", meetPath+"/rulings",
		fmt.Sprintf(`{"kind":"penalise","heat":%q,"entry":%q,"penalty_m":1,"reason":{"code":"other","text":"Somebody else"}}`, h.Id, other),
	)
	db, err := sql.Open("sqlite", w.server.options.Data+"/"+databaseFile+"?_pragma=busy_timeout(10000)")
	if err != nil {
		t.Fatal(err)
	}
	defer db.Close()
	for _, as := range []string{
		`DELETE FROM text_about`, `INSERT INTO text_about (club_id, text_id, person) SELECT club_id, text_id, '' FROM texts`,
	} {
		if _, err := db.Exec(as); err != nil {
			t.Fatal(err)
		}
	}
	var entries gen.EntryList
	w.get(meetPath+"/entries", &entries)
	for _, e := range entries.Entries {
		if e.Id == child {
			w.do("DELETE", "/api/v1/people/"+*e.Entrant, "")
		}
	}
	left, err := w.server.store.AllTexts(t.Context(), "harbour")
	if err != nil || len(left) != 1 || left[0].Text != "Somebody else" {
		t.Errorf("after the erasure the texts are %+v (%v)", left, err)
	}
}

// TestOneTextIsRemovedAlone: an organiser removes one text; its ruling stays with its
// reason, and an export of before does not bring it back.
func TestOneTextIsRemovedAlone(t *testing.T) {
	databases(t, func(t *testing.T, database string) {
		w := newWired(t, database)
		w.smallMeet()
		for _, entry := range []string{"e1", "e2"} {
			w.do(
				"POST", meetPath+"/rulings", fmt.Sprintf(`{"kind":"withdraw","entry":%q,"reason":{"code":"family","text":"Seegras %s"}}`, entry, entry),
			)
		}
		place := []string{"--data", w.server.options.Data}
		if database != "" {
			place = append(place, "--database", database)
		}
		path := t.TempDir() + "/before.benchmeet"
		if code, _, stderr := runHere(t, append([]string{"export", path}, place...)...); code != exitDone {
			t.Fatal(stderr)
		}
		var rulings gen.RulingList
		w.get(meetPath+"/rulings", &rulings)
		id := *rulings.Rulings[0].TextId
		for _, role := range []auth.Role{auth.Official, auth.Box, auth.Public} {
			if a := w.send(request{
				role: role, method: "DELETE", path: "/api/v1/texts/" + id,
			}); a.status != http.StatusForbidden && a.status != http.StatusUnauthorized {
				t.Errorf("%s removes a text: %d", role, a.status)
			}
		}
		if a := w.send(
			request{role: auth.Organiser, method: "DELETE", path: "/api/v1/texts/t-none"},
		); a.status != http.StatusNotFound || a.problem.Code != "no-text" {
			t.Errorf("a text that is not there: %d %s", a.status, a.body)
		}
		key := "01890000-0000-7000-8000-0000000000ff"
		first := w.send(request{role: auth.Organiser, method: "DELETE", path: "/api/v1/texts/" + id, key: key})
		again := w.send(request{role: auth.Organiser, method: "DELETE", path: "/api/v1/texts/" + id, key: key})
		if first.status != http.StatusOK || string(first.body) != string(again.body) {
			t.Errorf("removed: %d %s, and sent again: %d %s", first.status, first.body, again.status, again.body)
		}
		var now gen.RulingList
		w.get(meetPath+"/rulings", &now)
		if one, two := now.Rulings[0], now.Rulings[1]; one.Text != nil || one.TextId != nil || one.Reason != "family" || two.Text == nil {
			t.Errorf("the rulings are %+v", now.Rulings)
		}
		// A fresh database that learns of the removal, and then the export of before.
		if code, _, stderr := runHere(t, append([]string{"export", path + "2"}, place...)...); code != exitDone {
			t.Fatal(stderr)
		}
		data := t.TempDir()
		for _, from := range []string{path, path + "2", path} {
			if code, _, stderr := runHere(t, "import", from, "--data", data); code != exitDone {
				t.Fatal(stderr)
			}
		}
		s, err := openStore(t.Context(), "", data)
		if err != nil {
			t.Fatal(err)
		}
		defer s.Close()
		texts, err := s.AllTexts(t.Context(), "harbour")
		if err != nil || len(texts) != 1 || texts[0].ID == id {
			t.Errorf("after the imports the texts are %+v (%v)", texts, err)
		}
	})
}

// TestConsentForPublishedResults: each consent counts for its own: on screens until
// results are published, in the published table afterwards.
func TestConsentForPublishedResults(t *testing.T) {
	w := newWired(t, "")
	w.smallMeet()
	var entries gen.EntryList
	w.get(meetPath+"/entries", &entries)
	consents := map[string][2]bool{"e1": {true, true}, "e2": {true, false}, "e3": {false, true}, "e4": {false, false}}
	for _, e := range entries.Entries {
		c := consents[e.Id]
		w.do(
			"PUT", "/api/v1/people/"+*e.Entrant,
			fmt.Sprintf(`{"name":"Child","display_name":"Nick of %s","on_screen":%v,"in_results":%v,"photo":false}`, e.Id, c[0], c[1]),
		)
	}
	shown := func(path string) (out string) {
		a := w.send(request{method: "GET", path: meetPath + path})
		for _, id := range []string{"e1", "e2", "e3", "e4"} {
			if strings.Contains(string(a.body), "Nick of "+id) {
				out += id + " "
			}
		}
		return strings.TrimSpace(out)
	}
	check := func(when, standings, elsewhere string) {
		t.Helper()
		if got := shown("/divisions/open/standings"); got != standings {
			t.Errorf("%s the standings show %q, want %q", when, got, standings)
		}
		for _, path := range []string{"/entries", "/divisions/open/bracket"} {
			if got := shown(path); got != elsewhere {
				t.Errorf("%s %s shows %q, want %q", when, path, got, elsewhere)
			}
		}
	}
	check("while it runs", "e1 e2", "e1 e2")
	w.raceFirst()
	for {
		var list gen.HeatList
		w.get(meetPath+"/heats", &list)
		for _, h := range list.Heats {
			if h.Phase == gen.HeatPhaseDrawn {
				w.raceHeat(h.Id)
			}
		}
		w.do("POST", meetPath+"/divisions/open/close", `{"early":{"code":"time"}}`)
		if len(list.Heats) > 2 {
			break
		}
		w.do("POST", meetPath+"/divisions/open/draw", "")
	}
	check("before it is published", "e1", "e1 e2")
	w.do("POST", meetPath+"/divisions/open/publish", "")
	check("published,", "e1 e3", "e1")
}
