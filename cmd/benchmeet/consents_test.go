package main

import (
	"encoding/base64"
	"encoding/json"
	"fmt"
	"net/http"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"benchmeet/api/auth"
	"benchmeet/api/gen"
	"benchmeet/api/store"
	"benchmeet/domain/journal"
)

// changesOf are the changes of a person's consents as the desk lists them, each as the
// first letters of what is agreed to and the role that wrote it down.
func (w *wired) changesOf(name string) (out []string) {
	w.t.Helper()
	var list gen.PersonList
	w.get("/api/v1/people", &list)
	for _, p := range list.People {
		if p.Name != name || p.ConsentChanges == nil {
			continue
		}
		for _, c := range *p.ConsentChanges {
			role, _, _ := strings.Cut(c.By, "-")
			out = append(out, agreedTo(c.OnScreen, c.InResults, c.Photo)+" "+role)
		}
	}
	return out
}

func agreedTo(screen, results, photo bool) string {
	out := ""
	for i, yes := range []bool{screen, results, photo} {
		if yes {
			out += "srp"[i : i+1]
		}
	}
	return out
}

// TestChangedConsentsAreNoted: whichever way a consent comes to be another, the club's
// log says when, from then on what, and whose key wrote it, and nothing else of the
// child; the meet's log, which everybody reads, says nothing of it.
func TestChangedConsentsAreNoted(t *testing.T) {
	databases(t, func(t *testing.T, database string) {
		w := newWired(t, database)
		w.listMeet("spring")
		person := func(name string, screen, results, photo bool) string {
			return fmt.Sprintf(`{"name":%q,"display_name":"Nick %s","birth_date":"2018-04-01","on_screen":%t,"in_results":%t,"photo":%t}`,
				name, name, screen, results, photo)
		}
		put := func(role auth.Role, id, body string) {
			t.Helper()
			if a := w.send(request{role: role, method: http.MethodPut, path: "/api/v1/people/" + id, body: body}); a.status != http.StatusOK {
				t.Fatalf("%d %s", a.status, a.body)
			}
		}
		put(auth.Organiser, "p1", person("Quayside Ida", false, false, false))
		put(auth.Official, "p1", person("Quayside Ida", true, true, false))
		put(auth.Official, "p1", person("Quayside Ida-Marie", true, true, false)) // not a consent
		put(auth.Organiser, "p1", person("Quayside Ida-Marie", true, true, true))

		entry := request{
			role: auth.Official, method: http.MethodPost, path: "/api/v1/meets/spring/entries", key: "01890000-0000-7000-8000-0000000000aa",
			body: `{"id":"e1","division":"junior","start_number":1,"person":` + person("Quayside Bo", true, false, false) + `}`,
		}
		for range 2 { // and the retry of one whose answer was lost
			if a := w.send(entry); a.status != http.StatusCreated {
				t.Fatalf("%d %s", a.status, a.body)
			}
		}
		refused := request{
			role: auth.Official, method: http.MethodPost, path: entry.path,
			body: `{"id":"e2","division":"junior","start_number":1,"person":` + person("Quayside Cy", true, false, false) + `}`,
		}
		if a := w.send(refused); a.status != http.StatusConflict {
			t.Fatalf("a number that is taken: %d %s", a.status, a.body)
		}
		table := "Number;Name;Born;On screen;In results;Photo\n" +
			"5;Quayside Ida-Marie;2018-04-01;yes;no;no\n6;Quayside Dee;2018-05-01;no;no;yes\n7;Quayside Eli;2018-06-01;no;no;no\n"
		taken := request{
			role: auth.Organiser, method: http.MethodPost, path: "/api/v1/meets/spring/entry-table", key: "01890000-0000-7000-8000-0000000000ab",
			body: `{"division":"junior","file":"` + base64.StdEncoding.EncodeToString([]byte(table)) + `"}`,
		}
		for range 2 {
			if a := w.send(taken); a.status != http.StatusCreated {
				t.Fatalf("%d %s", a.status, a.body)
			}
		}

		want := map[string][]string{
			"Quayside Ida-Marie": {"s organiser", "srp organiser", "sr official"},
			"Quayside Bo":        {"s official"}, "Quayside Cy": nil,
			"Quayside Dee": {"p organiser"}, "Quayside Eli": nil,
		}
		for name, changes := range want {
			if diff := cmp.Diff(changes, w.changesOf(name)); diff != "" {
				t.Errorf("%s (-want +got)\n%s", name, diff)
			}
		}
		var people gen.PersonList
		w.get("/api/v1/people", &people)
		for _, p := range people.People {
			if n := want[p.Name]; len(n) > 0 && !strings.HasPrefix(n[0], agreedTo(p.OnScreen, p.InResults, p.Photo)+" ") {
				t.Errorf("%s agrees to %+v, and the log ends with %s", p.Name, p, n[0])
			}
		}

		noted := 0
		err := w.server.store.Read(t.Context(), store.ClubStream("harbour"), 0, func(r journal.Record) error {
			for _, personal := range []string{"Quayside", "Nick", "2018-"} {
				if strings.Contains(string(r.Bytes), personal) {
					t.Errorf("the log holds %s", r.Bytes)
				}
			}
			var e journal.Envelope
			if err := json.Unmarshal(r.Bytes, &e); err != nil {
				return err
			}
			if e.Type == "ConsentsChanged" {
				noted++
			}
			return nil
		})
		if err != nil || noted != 5 {
			t.Errorf("the log notes %d changes, %v", noted, err)
		}
		public := w.send(request{method: http.MethodGet, path: "/api/v1/meets/spring/log"})
		for _, word := range []string{"Consent", "on_screen", "photo"} {
			if strings.Contains(string(public.body), word) {
				t.Errorf("everybody reads %q in the log of the meet", word)
			}
		}
	})
}
