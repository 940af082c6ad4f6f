package main

import (
	"fmt"
	"net/http"
	"strings"
	"testing"

	"benchmeet/api/auth"
	"benchmeet/api/gen"
)

// Two desks opened the same thing. The later save is refused with what is there now, who
// has saved it and when; it is taken once it rests on that, or on nothing.
func TestLaterSaveDoesNotUndoTheEarlier(t *testing.T) {
	databases(t, func(t *testing.T, database string) {
		w := newWired(t, database)
		w.listMeet("spring")
		w.do("PUT", "/api/v1/benches/b1", `{"number":1,"circumference_mm":94.25}`)
		w.do("POST", "/api/v1/meets/spring/entries", `{"id":"e1","division":"junior","start_number":1,"car":"c1",
			"person":{"name":"Kit","display_name":"","on_screen":false,"in_results":false,"photo":false}}`)
		var m gen.Meet
		w.get("/api/v1/meets/spring", &m)
		var benches gen.BenchList
		w.get("/api/v1/benches", &benches)
		division := `"age_from":6,"age_to":10,"class":{"name":"Open class","lap_m":1},"stages":[{"kind":"timed-rounds","rounds":%d,"race_s":10,"lanes":2,"rule":"best"}]}`
		rules := `{"protest_s":%d,"call_s":120,"reruns_per_entry":2,"tie":"next-best","did_not_finish":"keep-distance","benches":"report","late":"no","hand_counts":"ranks"}`
		for _, thing := range []struct {
			path, edition, first, second string
			shows                        string // of the first save, in what is there now
		}{
			{
				"/meets/spring/entries/e1", *w.entriesOf("spring")[0].Edition,
				`{"division":"junior","start_number":91,"car":"c1"}`, `{"division":"junior","start_number":1,"car":"c1","club":"Pier"}`, "91",
			},
			{
				"/meets/spring/divisions/junior", *m.Divisions[0].Edition,
				`{"name":"Cubs",` + fmt.Sprintf(division, 2), `{"name":"Juniors",` + fmt.Sprintf(division, 3), "Cubs",
			},
			{
				"/meets/spring/plan", *m.PlanEdition,
				`{"name":"Pier meet","date":"2027-04-17"}`, `{"name":"Harbour meet","date":"2027-04-17"}`, "Pier meet",
			},
			{"/meets/spring/rules", *m.RulesEdition, fmt.Sprintf(rules, 60), fmt.Sprintf(rules, 120), "protest_s:60"},
			{"/benches/b1", *benches.Benches[0].Edition, `{"number":1,"circumference_mm":95.5}`, `{"number":1,"circumference_mm":94.75}`, "95.5"},
		} {
			put := func(edition, body string) answer {
				return w.send(request{role: auth.Organiser, method: "PUT", path: "/api/v1" + thing.path + "?edition=" + edition, body: body})
			}
			if a := put(thing.edition, thing.first); a.status != http.StatusOK {
				t.Fatalf("%s: %d %s", thing.path, a.status, a.body)
			}
			before := w.position()
			no := put(thing.edition, thing.second)
			if no.status != http.StatusConflict || no.problem.Code != "saved-since" || no.problem.Current == nil {
				t.Errorf("%s: the later save: %d %s", thing.path, no.status, no.body)
				continue
			}
			if now := fmt.Sprint(*no.problem.Current); !strings.Contains(now, thing.shows) {
				t.Errorf("%s: %q does not show %q", thing.path, now, thing.shows)
			}
			if args := *no.problem.Args; args["by"] == "" || !strings.HasPrefix(args["at"], "20") {
				t.Errorf("%s: nobody knows who saved it when: %v", thing.path, args)
			}
			// What is there already is no conflict, and a no changes nothing.
			if a := put(thing.edition, thing.first); a.status != http.StatusOK {
				t.Errorf("%s: the same once more: %d %s", thing.path, a.status, a.body)
			}
			if thing.path != "/meets/spring/divisions/junior" && thing.path != "/meets/spring/rules" && w.position() != before {
				t.Errorf("%s: a save that changes nothing is in the log", thing.path)
			}
			current := *no.problem.Current
			edition := current["edition"]
			if edition == nil {
				edition = current[thing.path[strings.LastIndex(thing.path, "/")+1:]+"_edition"]
			}
			if a := put(fmt.Sprint(edition), thing.second); a.status != http.StatusOK {
				t.Errorf("%s: resting on what is there: %d %s", thing.path, a.status, a.body)
			}
			if a := w.send(
				request{role: auth.Organiser, method: "PUT", path: "/api/v1" + thing.path, body: thing.first},
			); a.status != http.StatusOK {
				t.Errorf("%s: resting on nothing: %d %s", thing.path, a.status, a.body)
			}
		}
		public := w.send(request{role: auth.Public, method: "GET", path: "/api/v1/meets/spring/entries"})
		if strings.Contains(string(public.body), "edition") {
			t.Error("the public gets editions, which it cannot save on")
		}
	})
}
