package main

import (
	"encoding/json"
	"fmt"
	"net/http"
	"testing"

	"github.com/google/go-cmp/cmp"

	"benchmeet/api/auth"
	"benchmeet/api/gen"
)

// knockoutMeet plans a meet of one knockout with so many people p1, p2, ..., who
// are checked in; entries are closed.
func (w *wired) knockoutMeet(id string, entries int, stage string) {
	w.t.Helper()
	at := "/api/v1/meets/" + id
	w.do("POST", "/api/v1/meets", fmt.Sprintf(`{"id":%q,"plan":{"name":"Harbour Hall %s meet","date":"2027-04-17"},
		"rules":{"protest_s":0,"call_s":0,"reruns_per_entry":2,"runs_at_least":2,"tie":"shared","did_not_finish":"keep-distance","benches":"report","late":"no","hand_counts":"ranks"}}`, id, id))
	for i := 1; i <= 2; i++ {
		w.do("PUT", fmt.Sprintf("/api/v1/benches/b%d", i), fmt.Sprintf(`{"number":%d,"circumference_mm":94.25}`, i))
		w.do("PUT", fmt.Sprintf("%s/benches/b%d", at, i), "")
	}
	w.do("PUT", at+"/divisions/open", `{"name":"Open","age_from":0,"age_to":0,"class":{"name":"Open class","lap_m":1},
		"stages":[{"kind":"knockout","race_s":10,"lanes":2`+stage+`}]}`)
	for i := 1; i <= entries; i++ {
		person := fmt.Sprintf("p%d", i)
		w.do(
			"PUT", "/api/v1/people/"+person,
			fmt.Sprintf(`{"name":"Child %d Quay","display_name":"Nick %d","on_screen":true,"in_results":true,"photo":false}`, i, i),
		)
		w.do(
			"POST", at+"/entries", fmt.Sprintf(`{"id":"e%d","division":"open","start_number":%d,"entrant":%q,"club":"Quay %d"}`, i, i, person, i%2),
		)
		w.do("POST", fmt.Sprintf("%s/entries/e%d/check-in", at, i), `{"there":true}`)
	}
	closing := request{role: auth.Organiser, method: "POST", path: at + "/divisions/open/entries-closed", body: `{"closed":true}`}
	if a := w.send(closing); entries == 2 && a.problem.Code != "promise-short" {
		w.t.Errorf("one race where two are promised: %d %+v", a.status, a.problem)
	}
	w.do("POST", closing.path+"?sure=true", closing.body)
}

// seedOrder is the start numbers of the division "open" in seed order.
func (w *wired) seedOrder(meet string) (numbers []int, o gen.SeedOrder) {
	w.t.Helper()
	w.get("/api/v1/meets/"+meet+"/divisions/open/seed-order", &o)
	for _, l := range o.Lines {
		numbers = append(numbers, l.Racer.StartNumber)
	}
	return numbers, o
}

// Results of one meet seed the draw of the next: published, they are rated, and
// who won stands before who lost; the unrated stand behind by lot.
func TestRatingsSeedTheNextMeet(t *testing.T) {
	w := newWired(t, "")
	w.knockoutMeet("spring", 2, "")
	spring := "/api/v1/meets/spring"
	w.do("POST", spring+"/divisions/open/draw", "")
	w.do("POST", spring+"/heats/open-1.1.1/call", `{"benches":["b1","b2"]}`)
	h := w.startFirstHeat()
	for _, l := range h.Lanes {
		metres := 100 * l.Racer.StartNumber // number 2 wins
		w.do("POST", spring+"/heats/open-1.1.1/hand-count", fmt.Sprintf(`{"entry":%q,"distance_m":%d,"u_distance_m":0.5}`, l.Racer.Entry, metres))
	}
	w.do("POST", spring+"/divisions/open/close", `{}`)

	// Two races were promised, and the entries were closed knowing that there is one: nobody is told again.
	var decisions gen.DecisionList
	w.get(spring+"/decisions", &decisions)
	for _, d := range decisions.Decisions {
		if d.Few != nil {
			t.Errorf("said again: %+v", d)
		}
	}
	w.do("POST", spring+"/divisions/open/publish", "")

	var ratings gen.RatingList
	w.get("/api/v1/ratings", &ratings)
	if len(ratings.Ratings) != 2 || ratings.Ratings[0].Entrant != "p2" || ratings.Ratings[0].Rating <= 1500 ||
		ratings.Ratings[1].Rating >= 1500 {
		t.Fatalf("ratings: %+v", ratings.Ratings)
	}
	for _, role := range []auth.Role{auth.Public, auth.Volunteer} {
		for _, path := range []string{"/api/v1/ratings", spring + "/divisions/open/seed-order"} {
			if a := w.send(request{
				role: role, method: http.MethodGet, path: path,
			}); a.status != http.StatusUnauthorized && a.status != http.StatusForbidden {
				t.Errorf("%s reads %s: %d", role, path, a.status)
			}
		}
	}

	w.knockoutMeet("autumn", 4, `,"seeding":"rating","separate_clubs":true`)
	autumn := "/api/v1/meets/autumn/divisions/open"
	if a := w.send(request{
		role: auth.Official, method: "POST", path: autumn + "/draw",
	}); a.status != http.StatusConflict || a.problem.Code != "seed-first" {
		t.Errorf("a draw without its seed order: %d %+v", a.status, a.problem)
	}
	w.do("PUT", autumn+"/seed-order", `{"method":"rating"}`)
	numbers, o := w.seedOrder("autumn")
	if diff := cmp.Diff([]int{2, 1}, numbers[:2]); diff != "" || o.Lines[0].Rating == nil || o.Lines[2].Rating != nil {
		t.Errorf("(-want +got)\n%s%+v", diff, o)
	}

	// An erased person has no rating any more.
	w.do("DELETE", "/api/v1/people/p2", "")
	w.get("/api/v1/ratings", &ratings)
	if len(ratings.Ratings) != 1 || ratings.Ratings[0].Entrant != "p1" {
		t.Errorf("after erasing p2: %+v", ratings.Ratings)
	}
}

// A seed order by hand is looked at, given, drawn, and drawn anew by ruling.
func TestSeedsByHandOverHTTP(t *testing.T) {
	w := newWired(t, "")
	w.knockoutMeet("spring", 4, "")
	at := "/api/v1/meets/spring/divisions/open"
	var preview gen.SeedPreview
	a := w.do("POST", at+"/seed-preview", `{"order":["e4","e3","e2","e1"]}`)
	if err := json.Unmarshal(a.body, &preview); err != nil {
		t.Fatal(err)
	}
	if len(preview.Heats) != 2 || preview.Heats[0].Slots[0].Racer.StartNumber != 4 || preview.Heats[0].Slots[1].Racer.StartNumber != 1 {
		t.Errorf("preview: %s", a.body)
	}
	for body, code := range map[string]string{
		`{"method":"hand","order":["e1","e2","e3"]}`:           "seed-missing",
		`{"method":"hand","order":["e1","e2","e3","e4","e1"]}`: "seed-twice",
		`{"method":"hand","order":["e1","e2","e3","e4","e9"]}`: "no-entry",
		`{"method":"rank"}`: "seed-rank",
		`{"method":"best"}`: "bad-request",
	} {
		if a := w.send(request{role: auth.Official, method: "PUT", path: at + "/seed-order", body: body}); a.problem.Code != code {
			t.Errorf("%s gives %d %+v, want %s", body, a.status, a.problem, code)
		}
	}
	w.do("PUT", at+"/seed-order", `{"method":"hand","order":["e4","e3","e2","e1"]}`)
	w.do("POST", at+"/draw", "")
	if a := w.send(
		request{role: auth.Official, method: "PUT", path: at + "/seed-order", body: `{"method":"lot"}`},
	); a.problem.Code != "seed-drawn" {
		t.Errorf("seeding a drawn stage gives %d %+v", a.status, a.problem)
	}
	w.do("POST", at+"/draw-again", `{"reason":{"code":"volunteer-error"},"seeds":{"method":"hand","order":["e2","e1","e4","e3"]}}`)
	if numbers, o := w.seedOrder("spring"); o.Open || !cmp.Equal(numbers, []int{2, 1, 4, 3}) {
		t.Errorf("after drawing again: %v, open %v", numbers, o.Open)
	}
}

// Divisions race together and are read apart.
func TestMergedOverHTTP(t *testing.T) {
	w := newWired(t, "")
	w.knockoutMeet("spring", 2, "")
	at := "/api/v1/meets/spring/divisions/"
	w.do("PUT", at+"mini", `{"name":"Minis","age_from":0,"age_to":0,"class":{"name":"Open class","lap_m":1},
		"stages":[{"kind":"timed-rounds","rounds":1,"rule":"best","race_s":10,"lanes":2}]}`)
	w.do(
		"POST", "/api/v1/meets/spring/entries",
		`{"id":"m1","division":"mini","start_number":11,"person":{"name":"Child 11 Quay","display_name":"","on_screen":false,"in_results":false,"photo":false}}`,
	)
	w.do("POST", "/api/v1/meets/spring/entries/m1/check-in", `{"there":true}`)
	w.do("POST", at+"open/merge", `{"from":["mini"]}`)
	if a := w.send(request{role: auth.Official, method: "POST", path: at + "mini/draw"}); a.problem.Code != "division-merged" {
		t.Errorf("drawing a merged division gives %d %+v", a.status, a.problem)
	}
	w.do("POST", at+"open/draw", "")
	for division, want := range map[string]int{"open": 3, "mini": 1} {
		var s gen.Standings
		w.get(at+division+"/standings", &s)
		if len(s.Standings) != want {
			t.Errorf("%s has %d lines, want %d", division, len(s.Standings), want)
		}
	}
	var entries gen.EntryList
	w.get("/api/v1/meets/spring/entries", &entries)
	for _, e := range entries.Entries {
		if e.Id == "m1" && (e.Division != "open" || e.Band == nil || *e.Band != "mini" || e.StartNumber != 11) {
			t.Errorf("the entry stands as %+v", e)
		}
	}
	if a := w.send(request{role: auth.Organiser, method: "POST", path: at + "open/split"}); a.problem.Code != "division-drawn" {
		t.Errorf("splitting after the draw gives %d %+v", a.status, a.problem)
	}
}
