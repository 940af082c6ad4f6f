package main

import (
	"encoding/base64"
	"encoding/csv"
	"encoding/json"
	"fmt"
	"net/http"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"benchmeet/api/auth"
	"benchmeet/api/gen"
)

// listMeet plans a meet with two divisions and nobody in it.
func (w *wired) listMeet(id string) {
	w.t.Helper()
	w.do("POST", "/api/v1/meets", fmt.Sprintf(`{"id":%q,"plan":{"name":"Harbour Hall spring meet","date":"2027-04-17"}}`, id))
	for division, ages := range map[string]string{
		"junior": `"name":"Juniors","age_from":6,"age_to":10`, "open": `"name":"Open","age_from":0,"age_to":0`,
	} {
		w.do("PUT", "/api/v1/meets/"+id+"/divisions/"+division, `{`+ages+`,
			"class":{"name":"Open class","lap_m":1},"stages":[{"kind":"timed-rounds","rounds":1,"race_s":10,"lanes":2,"rule":"best"}]}`)
	}
}

func fileBody(text string) string {
	return `{"division":"junior","file":"` + base64.StdEncoding.EncodeToString([]byte(text)) + `"}`
}

func (w *wired) lookAt(meet, body string) (out gen.EntryTable) {
	w.t.Helper()
	a := w.do("POST", "/api/v1/meets/"+meet+"/entry-table/look", body)
	if err := json.Unmarshal(a.body, &out); err != nil {
		w.t.Fatal(err)
	}
	return out
}

func (w *wired) entriesOf(meet string) []gen.Entry {
	w.t.Helper()
	var list gen.EntryList
	w.get("/api/v1/meets/"+meet+"/entries", &list)
	return list.Entries
}

// A table is looked at, put right and taken in one order; with one mistake left nothing
// of it is taken, neither entries nor people.
func TestEntryTableIsTakenWholeOrNotAtAll(t *testing.T) {
	databases(t, func(t *testing.T, database string) {
		w := newWired(t, database)
		w.listMeet("spring")
		var rows strings.Builder
		rows.WriteString("Number;Nickname;Name;Date of birth;Screens\n")
		for i := 1; i <= 400; i++ {
			fmt.Fprintf(&rows, "%d;Nick %d;Quayside Child %d;2.5.2018;x\n", i, i, i)
		}
		bad := strings.Replace(rows.String(), "400;Nick 400;Quayside Child 400;2.5.2018", "400;Nick 400;Quayside Child 400;31.2.2018", 1)
		before := w.position()
		looked := w.lookAt("spring", fileBody(bad))
		if n := len(looked.Rows); n != 400 || len(looked.Rows[399].Faults) != 1 {
			t.Fatalf("%d rows, the last: %+v", n, looked.Rows[n-1])
		}
		if f := looked.Rows[399].Faults[0]; f.Line != 401 || f.Column != 4 || f.Code != "table-no-such-day" {
			t.Errorf("%+v", f)
		}
		table := "/api/v1/meets/spring/entry-table"
		no := w.send(request{role: auth.Organiser, method: "POST", path: table, body: fileBody(bad)})
		if no.status != http.StatusConflict || no.problem.Code != "table-faults" || !strings.Contains(no.problem.Detail, "line 401, column 4") {
			t.Errorf("%d %s", no.status, no.body)
		}
		var people gen.PersonList
		if w.get("/api/v1/people", &people); len(people.People) > 0 || w.position() != before || len(w.entriesOf("spring")) > 0 {
			t.Error("something of a table with a mistake was taken")
		}
		key := "01890000-0000-7000-8000-00000000beef"
		for _, again := range []string{"", "true"} {
			a := w.send(request{role: auth.Official, method: "POST", path: table, body: fileBody(rows.String()), key: key})
			if a.status != http.StatusCreated || a.header.Get("Order-Again") != again {
				t.Fatalf("again %q: %d %s", again, a.status, a.body)
			}
		}
		if entries := w.entriesOf("spring"); len(entries) != 400 || *entries[399].Name != "Quayside Child 400" {
			t.Errorf("%d entries", len(entries))
		}
		log := w.send(request{role: auth.Public, method: "GET", path: "/api/v1/meets/spring/log"})
		for _, personal := range []string{"Quayside", "Nick 7", "2018-05"} {
			if strings.Contains(string(log.body), personal) {
				t.Errorf("the log says %q of a child", personal)
			}
		}
	})
}

// What another desk took since the look is said, and nothing is taken.
func TestEntryTableAfterAnotherDesk(t *testing.T) {
	w := newWired(t, "")
	w.listMeet("spring")
	body := `{"division":"open","heads":["number","name"],"rows":[{"line":2,"cells":["1","Kit"]},{"line":3,"cells":["2","Kim"]}]}`
	if looked := w.lookAt("spring", body); len(looked.Rows) != 2 || looked.Rows[1].Entry == nil {
		t.Fatalf("%+v", looked)
	}
	w.do("POST", "/api/v1/meets/spring/entries", `{"division":"open","start_number":2,
		"person":{"name":"Sam","display_name":"","on_screen":false,"in_results":false,"photo":false}}`)
	a := w.send(request{role: auth.Organiser, method: "POST", path: "/api/v1/meets/spring/entry-table", body: body})
	if a.status != http.StatusConflict || a.problem.Code != "table-faults" || len(w.entriesOf("spring")) != 1 {
		t.Errorf("%d %s", a.status, a.body)
	}
	looked := w.lookAt("spring", body)
	if f := looked.Rows[1].Faults; len(f) != 1 || f[0].Code != "table-number-taken" || (*f[0].Args)["free"] != "3" {
		t.Errorf("%+v", looked.Rows[1])
	}
}

// Every broken file gets an answer with a line, a column and what to do, over the wire too,
// and is refused whole.
func TestBrokenEntryTablesAreRefused(t *testing.T) {
	w := newWired(t, "")
	w.listMeet("spring")
	files, err := filepath.Glob("../../domain/entrytable/testdata/broken/*.csv")
	if err != nil || len(files) < 20 {
		t.Fatal(len(files), err)
	}
	before := w.position()
	for _, path := range files {
		file, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		body := `{"file":"` + base64.StdEncoding.EncodeToString(file) + `"}`
		looked := w.lookAt("spring", body)
		faults := looked.Faults
		for _, r := range looked.Rows {
			faults = append(faults, r.Faults...)
		}
		name := filepath.Base(path)
		// Two are broken by who is in the meet, and here nobody is.
		if len(faults) == 0 && !slices.Contains([]string{"number-taken.csv", "entered-already.csv"}, name) {
			t.Errorf("%s: no mistake", name)
		}
		for _, f := range faults {
			if f.Line < 1 || f.Column < 1 || !strings.Contains(f.Says, ": ") {
				t.Errorf("%s: %+v", name, f)
			}
		}
		if len(faults) > 0 {
			if a := w.send(
				request{role: auth.Organiser, method: "POST", path: "/api/v1/meets/spring/entry-table", body: body},
			); a.status != http.StatusConflict {
				t.Errorf("%s: %d %s", name, a.status, a.body)
			}
		}
	}
	if w.position() != before {
		t.Error("something was taken")
	}
}

// What goes out as a table comes in as the same entries of the same people, formulas and
// all, and no spreadsheet runs a cell of it.
func TestEntriesGoOutAndComeInAsTheSame(t *testing.T) {
	w := newWired(t, "")
	w.listMeet("spring")
	w.listMeet("autumn")
	for i, p := range []string{
		`"name":"=HYPERLINK(\"http://x\")","display_name":"+Puffin","birth_date":"2018-05-02","say_as":"@puff"`,
		`"name":"Kit, \"the\" Otter","display_name":"-3","birth_date":"2018-05-03"`,
		`"name":"'=Quoted;=1","display_name":"ÄÖ ß","birth_date":"2018-05-04"`,
		`"name":"@Tern","display_name":"","birth_date":"2018-05-05"`,
	} {
		w.do("POST", "/api/v1/meets/spring/entries", fmt.Sprintf(`{"division":"junior","start_number":%d,"club":"Pier; Club",
			"person":{%s,"on_screen":true,"in_results":%t,"photo":false}}`, i+5, p, i%2 == 0))
	}
	out := w.send(request{role: auth.Organiser, method: "GET", path: "/api/v1/meets/spring/entry-table"})
	if out.status != http.StatusOK || !strings.HasPrefix(out.kind, "text/csv") || !strings.HasPrefix(string(out.body), "\ufeffNumber,") {
		t.Fatalf("%d %s %q", out.status, out.kind, out.body)
	}
	if name := out.header.Get("Content-Disposition"); name != `attachment; filename="spring-entries.csv"` {
		t.Error(name)
	}
	records, err := csv.NewReader(strings.NewReader(strings.TrimPrefix(string(out.body), "\ufeff"))).ReadAll()
	if err != nil || len(records) != 5 || strings.Contains(strings.ReplaceAll(string(out.body), "\r\n", ""), "\n") {
		t.Fatalf("it is no RFC 4180: %v\n%s", err, out.body)
	}
	for _, row := range records {
		for _, cell := range row {
			if cell != "" && cell != "-3" && strings.ContainsAny(cell[:1], "=+-@\t\r") {
				t.Errorf("a spreadsheet runs %q", cell)
			}
		}
	}
	w.do("POST", "/api/v1/meets/autumn/entry-table", `{"file":"`+base64.StdEncoding.EncodeToString(out.body)+`"}`)
	spring, autumn := w.entriesOf("spring"), w.entriesOf("autumn")
	for _, list := range [][]gen.Entry{spring, autumn} {
		for i := range list {
			list[i].Id, list[i].Car, list[i].Edition = "", "", nil // the edition is of the car too
		}
	}
	if diff := cmp.Diff(spring, autumn); diff != "" || len(autumn) != 4 {
		t.Errorf("(-went +came)\n%s", diff)
	}
	for role := range w.tokens {
		a := w.send(request{role: role, method: "GET", path: "/api/v1/meets/spring/entry-table"})
		if mine := role == auth.Organiser; mine != (a.status == http.StatusOK) {
			t.Errorf("%s reads the children's names: %d", role, a.status)
		}
	}
}

// The table of standings shows the public what the page of standings does.
func TestStandingsGoOutAsTheyAreShown(t *testing.T) {
	w := newWired(t, "")
	w.listMeet("spring")
	for i, consent := range []bool{true, false} {
		w.do("POST", "/api/v1/meets/spring/entries", fmt.Sprintf(`{"id":"e%d","division":"junior","start_number":%d,
			"person":{"name":"Quayside Child","display_name":"=Nick%d","on_screen":%t,"in_results":%t,"photo":false}}`, i, i+1, i, consent, consent))
		w.do("POST", fmt.Sprintf("/api/v1/meets/spring/entries/e%d/check-in", i), `{"there":true}`)
		w.do("PUT", fmt.Sprintf("/api/v1/benches/b%d", i+1), fmt.Sprintf(`{"number":%d,"circumference_mm":94.25}`, i+1))
		w.do("PUT", fmt.Sprintf("/api/v1/meets/spring/benches/b%d", i+1), "")
	}
	w.do("POST", "/api/v1/meets/spring/divisions/junior/entries-closed", `{"closed":true}`)
	w.do("POST", "/api/v1/meets/spring/divisions/junior/draw", "")
	w.do("POST", "/api/v1/meets/spring/heats/junior-1.1.1/call", `{"benches":["b1","b2"]}`)
	for _, l := range w.heat("junior-1.1.1").Lanes {
		w.do(
			"POST", "/api/v1/meets/spring/heats/junior-1.1.1/ready", fmt.Sprintf(`{"bench":%q,"start_number":%d}`, *l.Bench, l.Racer.StartNumber),
		)
	}
	w.do("POST", "/api/v1/meets/spring/heats/junior-1.1.1/start", "")
	for i, metres := range []string{"48.5", "47"} {
		w.do("POST", "/api/v1/meets/spring/heats/junior-1.1.1/hand-count?sure=true",
			fmt.Sprintf(`{"entry":"e%d","distance_m":%s,"u_distance_m":0.5}`, i, metres))
	}
	for _, role := range []auth.Role{auth.Public, auth.Organiser} {
		out := w.send(request{role: role, method: "GET", path: "/api/v1/meets/spring/divisions/junior/standings-table"})
		want := "\ufeffRank,Number,Nickname,Club,Division,Distance (m),Uncertainty (m),Points,Result,Stage 1 round 1 (m)\r\n" +
			"1,1,'=Nick0,,Juniors,48.5,0.5,,,48.5\r\n2,2,,,Juniors,47,0.5,,,47\r\n"
		if string(out.body) != want {
			t.Errorf("%s: %d %q", role, out.status, out.body)
		}
	}
}
