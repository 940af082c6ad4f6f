package main

import (
	"bytes"
	"context"
	"encoding/json"
	"flag"
	"fmt"
	"io"
	"maps"
	"net/http"
	"net/netip"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/gorilla/websocket"

	"benchmeet/api/auth"
	"benchmeet/api/gen"
	"benchmeet/api/store"
)

var updateRoles = flag.Bool("update-roles", false, "write testdata/roles.txt as the server is now")

// asker is a kind of caller that the table has a column for.
type asker struct {
	name   string
	bearer string
	cookie string
}

// walker is a hall with a meet in motion, and everybody who may come.
type walker struct {
	*wired
	askers  []asker
	run     string // that waits for a ruling
	session string // of practice
	key     string // in the address of the calendar
	host    string // that requests are sent to by name; empty for the server's address
}

// Words of the hall that not everybody may read.
const (
	walkedName  = "Child 1 Quay"
	walkedBirth = "2016-05-04"
	walkedText  = "words of a parent"
	walkedLabel = "a key of the walk"
)

func newWalker(t *testing.T) *walker {
	w := &walker{wired: newWired(t, "", func(o *serverOptions) {
		o.Proxies = proxies{netip.MustParsePrefix("127.0.0.1/32")}
	})}
	w.furnish()
	w.comeAll()
	return w
}

// furnish puts a meet in motion, with everything that the operations are about.
func (w *walker) furnish() {
	t := w.t
	w.smallMeetOf(`,"rules":{"protest_s":300,"call_s":180,"reruns_per_entry":2,"tie":"shared","did_not_finish":"keep-distance",
		"benches":"report","late":"no","hand_counts":"ranks","battery_gate":"warn","inspection_gate":"warn"}`,
		`,"checklist":[{"id":"mass","name":"Weight","unit":"g","max":180}]`)
	w.do("PUT", "/api/v1/benches/b3", `{"number":3,"circumference_mm":94.25}`)
	entries := entryList(t, w.wired)
	for _, e := range entries {
		if e.Name != nil && strings.HasPrefix(*e.Name, "Child 1") {
			w.do("PUT", "/api/v1/people/"+*e.Entrant, `{"name":"`+walkedName+`","display_name":"Nick 1","birth_date":"`+walkedBirth+`","on_screen":true,"in_results":true,"photo":false}`)
		}
	}
	h := w.startFirstHeat()
	for i, l := range h.Lanes {
		w.sendRun(*l.Bench, *l.Armed, "00000000000000aa", int64(7000+100*i))
	}
	w.run = "nobody-asked"
	w.sendRun("b1", w.run, "00000000000000ab", 7000)
	w.do("POST", meetPath+"/protests", `{"heat":"open-1.1.1","entry":"e1","reason":{"code":"other","text":"`+walkedText+`"}}`)
	w.do("POST", meetPath+"/rulings", `{"kind":"penalise","heat":"open-1.1.1","entry":"`+h.Lanes[0].Racer.Entry+`","penalty_m":0.5,
		"reason":{"code":"other","text":"`+walkedText+`"}}`)
	w.do("POST", meetPath+"/heats/open-1.1.2/call", `{"benches":["b1","b2"]}`)
	var opened gen.Receipt
	must(t, json.Unmarshal(w.do("POST", "/api/v1/practice/sessions", `{"benches":["b1"],"race_s":10}`).body, &opened))
	w.session = *opened.Id
	w.do("POST", "/api/v1/practice/sessions/"+w.session+"/queue", `{"car_number":7}`)
	w.do("POST", "/api/v1/practice/cars/7/setups", `{"setup":{"driving_teeth":10,"driven_teeth":40}}`)
	w.practise("b1", walkedPractice, "00000000000000ad", 7000)
	var calendar gen.CalendarAddress
	w.get(meetPath+"/calendar", &calendar)
	w.key = strings.Split(calendar.Path, "/")[6]
}

func entryList(t testing.TB, w *wired) []gen.Entry {
	t.Helper()
	var list gen.EntryList
	w.get(meetPath+"/entries", &list)
	return list.Entries
}

// comeAll makes a key for every column of the table.
func (w *walker) comeAll() {
	ctx := context.Background()
	must(w.t, w.server.store.EnsureClub(ctx, store.Club{ID: "pier", Name: "Pier"}))
	made := func(wish auth.Wish) (string, store.Token) {
		wish.Club, wish.Label = cmpOr(wish.Club, "harbour"), walkedLabel
		secret, token, err := w.server.tokens.Make(ctx, wish)
		must(w.t, err)
		return secret, token
	}
	bearer := func(name string, wish auth.Wish) {
		secret, _ := made(wish)
		w.askers = append(w.askers, asker{name: name, bearer: secret})
	}
	for _, role := range []auth.Role{auth.Organiser, auth.Official, auth.Referee, auth.Inspector} {
		bearer(string(role), auth.Wish{Role: role})
	}
	for _, role := range []auth.Role{auth.Volunteer, auth.Box} {
		bearer(string(role), auth.Wish{Role: role, Benches: []string{"b1"}})
		bearer(string(role)+"@b3", auth.Wish{Role: role, Benches: []string{"b3"}})
	}
	bearer("volunteer@autumn", auth.Wish{Role: auth.Volunteer, Benches: []string{"b1"}, Meet: "autumn"})
	w.askers = append(w.askers, asker{name: "public"})
	bearer("other-club", auth.Wish{Role: auth.Organiser, Club: "pier"})

	secret, token := made(auth.Wish{Role: auth.Organiser})
	token.ExpiresUS = time.Now().Add(-time.Second).UnixMicro()
	must(w.t, w.server.store.PutToken(ctx, token))
	w.askers = append(w.askers, asker{name: "expired", bearer: secret})
	secret, token = made(auth.Wish{Role: auth.Organiser})
	must(w.t, w.server.tokens.Revoke(ctx, "harbour", token.ID))
	w.askers = append(w.askers, asker{name: "revoked", bearer: secret})
	link, _ := made(auth.Wish{Role: auth.Organiser})
	cookie, who, _, err := w.server.tokens.Exchange(ctx, "harbour", link, "")
	must(w.t, err)
	must(w.t, w.server.tokens.EndSession(ctx, "harbour", who.Key))
	w.askers = append(w.askers, asker{name: "signed-out", cookie: cookie}, asker{name: "used-link", bearer: link})
}

func cmpOr(a, b string) string {
	if a == "" {
		return b
	}
	return a
}

func must(t testing.TB, err error) {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
}

// What the parameters of paths are, so that nothing of the hall is spoiled: things
// that have to be there for the door to look at them, and else "none".
var walkedParams = map[string]string{"meet": "spring", "bench": "b1", "heat": "open-1.1.1", "division": "open", "entry": "e1", "number": "7"}

// walkedAs are orders that need more than an empty body for the door to see whose bench
// they are about, and orders that would spoil the hall where they are carried out.
var walkedAs = map[string]struct {
	body, query string
	params      map[string]string
}{
	"PostChunk":         {body: `{"boot":"00000000000000ac","run":"walked","number":0,"stamps_us":[1,2]}`},
	"ArmPractice":       {body: `{"race_s":5}`},
	"ConfirmReady":      {body: `{"bench":"b1","start_number":99}`},
	"TakeReadyBack":     {body: `{"bench":"b1"}`},
	"RecordHandCount":   {body: `{"entry":"ENTRY","distance_m":3,"u_distance_m":0.1}`},
	"AskRerun":          {body: `{"entry":"ENTRY","reason":{"code":"other"}}`},
	"LodgeProtest":      {body: `{"heat":"open-1.1.1","reason":{"code":"other"}}`},
	"WantOfficial":      {body: `{"wanted":true}`},
	"RetireBench":       {params: map[string]string{"bench": "none"}},
	"GuessRun":          {body: `{"distance_m":3}`},
	"JoinQueue":         {body: `{"car_number":7}`},
	"MovePracticeRun":   {body: `{"car_number":7}`, params: map[string]string{"run": walkedPractice}},
	"DropPracticeRun":   {body: `{"why":"other"}`, params: map[string]string{"run": walkedPractice}},
	"GetCompared":       {query: "?from=0&to=1"},
	"GetBeside":         {query: "?bench=b1&other_bench=b2"},
	"PlanComparison":    {body: `{"from":0,"to":1}`},
	"GetPracticeCurve":  {params: map[string]string{"run": walkedPractice}},
	"KeepPracticeRun":   {params: map[string]string{"run": walkedPractice}},
	"PublishResults":    {params: map[string]string{"division": "none"}},
	"EndProgramme":      {params: map[string]string{"division": "none"}},
	"GetRunDifference":  {query: "?from=RUN"},
	"PutAway":           {body: `{"division":"none"}`},
	"BringBack":         {body: `{"division":"none"}`},
	"GetPracticeSignal": {params: map[string]string{"run": walkedPractice}},

	"ClosePracticeSession": {params: map[string]string{"session": "none"}},
	"SetAccount":           {body: `{"name":"walker","password":"too short"}`},
	"EndSession":           {params: map[string]string{"session": "none"}},
}

// walkedPractice is a practice run on bench b1.
const walkedPractice = "walked-practice"

// cell is what a caller gets of an operation: the code of a refusal of who it is, "absent"
// where the hall is not there for it, or "yes" with what it may read of the hall.
func cell(status int, code string, body []byte) string {
	switch {
	case status == http.StatusUnauthorized || status == http.StatusForbidden:
		return code
	case code == "no-meet":
		return "absent"
	}
	if status == http.StatusTooManyRequests {
		return "limited"
	}
	out := "yes"
	for _, part := range []struct{ word, name string }{
		{walkedName, "names"},
		{walkedBirth, "births"},
		{walkedText, "texts"},
		{walkedLabel, "keys"},
		{`"entrant":`, "entrants"},
		{`"table":[{`, "lacks"},
	} {
		if bytes.Contains(body, []byte(part.word)) {
			out += "+" + part.name
		}
	}
	return out
}

// ask sends a request as one of the askers.
func (w *walker) ask(a asker, method, path, body string) (status int, code string, got []byte) {
	w.t.Helper()
	req, err := http.NewRequest(method, w.server.url()+path, strings.NewReader(body))
	must(w.t, err)
	if method != http.MethodGet {
		req.Header.Set("Idempotency-Key", fmt.Sprintf("01890000-0000-7000-9000-%012d", w.orders.Add(1)))
		req.Header.Set("Content-Type", "application/json")
	}
	w.sign(a, req.Header)
	if w.host != "" {
		req.Host = w.host
	}
	res, err := http.DefaultClient.Do(req)
	must(w.t, err)
	defer res.Body.Close()
	got, err = io.ReadAll(res.Body)
	must(w.t, err)
	var p gen.Problem
	if res.StatusCode >= 400 {
		if err := json.Unmarshal(got, &p); err != nil {
			w.t.Fatalf("%s %s: %d is no problem: %s", method, path, res.StatusCode, got)
		}
	}
	return res.StatusCode, p.Code, got
}

// sign is who asks, from an address of its own: no limit of an address is met.
func (w *walker) sign(a asker, h http.Header) {
	n := w.orders.Add(1)
	h.Set("X-Forwarded-For", fmt.Sprintf("198.18.%d.%d", n/250%250, n%250))
	if a.bearer != "" {
		h.Set("Authorization", "Bearer "+a.bearer)
	}
	if a.cookie != "" {
		h.Set("Cookie", "benchmeet="+a.cookie+"; benchmeet-club="+a.cookie)
	}
}

var pathParam = regexp.MustCompile(`\{(\w+)\}`)

// TestRoleTable walks every operation of the contract and every topic of the live feed
// by everybody who may come: the roles, at their own bench and at another one, a key of
// another meet and of another club, and keys that are good no more. What each gets
// stands in testdata/roles.txt, which -update-roles writes anew.
func TestRoleTable(t *testing.T) {
	w := newWalker(t)
	rows := map[string]map[string]string{}
	for _, o := range w.operations() {
		rows[o.name] = map[string]string{}
		for _, a := range w.askers {
			status, code, got := w.ask(a, o.method, o.path, o.bodyBy(a))
			rows[o.name][a.name] = cell(status, code, got)
			if a.name == "organiser" && o.method == http.MethodGet && status != http.StatusOK {
				t.Errorf("%s says nothing of what is to be read: %d %s", o.name, status, got)
			}
			if status >= 500 {
				t.Errorf("%s by %s: %d %s", o.name, a.name, status, got)
			}
		}
	}
	for _, topic := range walkedTopics {
		rows["live "+topic] = w.hear("/api/v1/meets/spring/live?topics=" + topic)
	}
	rows["live speed/b1"] = w.hear("/api/v1/meets/spring/live?topics=speed/b1,board")
	rows["live practice"] = w.hear("/api/v1/practice/live?topics=practice")
	w.compare(rows)
}

// walkedTopics are those of a meet that have a frame at once.
var walkedTopics = []string{"meet", "board", "day-plan", "standings/open", "bracket/open", "car/e1", "bench/b1"}

// operation is one of the contract's, about things of the hall.
type operation struct{ name, method, path, body string }

// bodyBy is what an asker sends.
func (o operation) bodyBy(a asker) string {
	if o.name == "SignIn" {
		return `{"token":"` + cmpOr(a.bearer, "nothing") + `"}`
	}
	if o.name == "SignInByName" { // each another one, for those who guess at one account wait
		return `{"name":"` + a.name + `","password":"none of the words"}`
	}
	return o.body
}

// operations are all of the contract's, in one order, because orders may change the hall.
func (w *walker) operations() (all []operation) {
	spec, err := gen.GetSpec()
	must(w.t, err)
	atB1 := ""
	for _, l := range w.heat("open-1.1.1").Lanes {
		if l.Bench != nil && *l.Bench == "b1" {
			atB1 = l.Racer.Entry
		}
	}
	for _, path := range slices.Sorted(maps.Keys(spec.Paths.Map())) {
		for method, op := range spec.Paths.Value(path).Operations() {
			name := strings.ToUpper(op.OperationID[:1]) + op.OperationID[1:]
			as := walkedAs[name]
			at := pathParam.ReplaceAllStringFunc(path, func(p string) string {
				p = strings.Trim(p, "{}")
				if own, there := as.params[p]; there {
					return own
				}
				switch p {
				case "run":
					return w.run
				case "session":
					return w.session
				case "key":
					return w.key
				}
				return cmpOr(walkedParams[p], "none")
			}) + strings.ReplaceAll(as.query, "RUN", w.run)
			body := ""
			if method != http.MethodGet {
				body = cmpOr(strings.ReplaceAll(as.body, "ENTRY", atB1), "{}")
			}
			all = append(all, operation{name, method, at, body})
		}
	}
	return all
}

// hear listens to a topic as everybody, for the first frame.
func (w *walker) hear(path string) map[string]string {
	out := map[string]string{}
	for _, a := range w.askers {
		status, code, frame := w.hearAs(a, path)
		out[a.name] = cell(status, code, frame)
	}
	return out
}

// hearAs listens as one of the askers.
func (w *walker) hearAs(a asker, path string) (status int, code string, frame []byte) {
	w.t.Helper()
	header := http.Header{}
	w.sign(a, header)
	if w.host != "" {
		header.Set("Host", w.host)
	}
	conn, res, err := websocket.DefaultDialer.Dial("ws"+strings.TrimPrefix(w.server.url(), "http")+path, header)
	if err != nil {
		if res == nil {
			w.t.Fatalf("%s by %s: %v", path, a.name, err)
		}
		var p gen.Problem
		_ = json.NewDecoder(res.Body).Decode(&p)
		res.Body.Close()
		return res.StatusCode, p.Code, nil
	}
	res.Body.Close()
	must(w.t, conn.SetReadDeadline(time.Now().Add(10*time.Second)))
	_, frame, err = conn.ReadMessage()
	must(w.t, err)
	conn.Close()
	return http.StatusOK, "", frame
}

// compare holds what was found to the table.
func (w *walker) compare(rows map[string]map[string]string) {
	w.t.Helper()
	path := filepath.Join("testdata", "roles.txt")
	names := []string{}
	for _, a := range w.askers {
		names = append(names, a.name)
	}
	if *updateRoles {
		must(w.t, os.WriteFile(path, roleTable(names, rows), 0o644))
		return
	}
	text, err := os.ReadFile(path)
	must(w.t, err)
	lines := strings.Split(strings.TrimSpace(string(text)), "\n")
	columns := []string{}
	said := map[string]bool{}
	for _, line := range lines {
		if strings.HasPrefix(line, "#") || line == "" {
			continue
		}
		cells := splitCells(line)
		if len(columns) == 0 {
			columns = cells[1:]
			if !slices.Equal(columns, names) {
				w.t.Fatalf("the table has the columns %q, the test %q: run it with -update-roles and look at what changed", columns, names)
			}
			continue
		}
		row, there := rows[cells[0]]
		if !there || len(cells) != len(columns)+1 {
			w.t.Errorf("the line of %s is about nothing that there is", cells[0])
			continue
		}
		said[cells[0]] = true
		for i, want := range cells[1:] {
			if got := row[columns[i]]; got != want {
				more := ""
				if strings.HasPrefix(got, "yes") {
					more = ": more than the table says"
				}
				w.t.Errorf("%s by %s: %s, the table says %s%s", cells[0], columns[i], got, want, more)
			}
		}
	}
	for name := range rows {
		if !said[name] {
			w.t.Errorf("%s is missing in %s", name, path)
		}
	}
}

var twoBlanks = regexp.MustCompile(`\s{2,}`)

func splitCells(line string) []string { return twoBlanks.Split(strings.TrimSpace(line), -1) }

// roleTable writes the table with aligned columns.
func roleTable(columns []string, rows map[string]map[string]string) []byte {
	table := [][]string{append([]string{"operation"}, columns...)}
	for _, name := range slices.Sorted(maps.Keys(rows)) {
		line := []string{name}
		for _, c := range columns {
			line = append(line, rows[name][c])
		}
		table = append(table, line)
	}
	width := make([]int, len(columns)+1)
	for _, line := range table {
		for i, text := range line {
			width[i] = max(width[i], len(text))
		}
	}
	var out bytes.Buffer
	out.WriteString(roleTableHead)
	for _, line := range table {
		for i, text := range line {
			if i == len(line)-1 {
				out.WriteString(text + "\n")
				break
			}
			fmt.Fprintf(&out, "%-*s  ", width[i], text)
		}
	}
	return out.Bytes()
}

const roleTableHead = `# Who gets what: every operation of api/openapi.yaml and every topic of the live feed, by everybody who may come.
# Written and held by TestRoleTable (go test ./cmd/benchmeet -run TestRoleTable -update-roles).
#
# yes         is let in by who it is; whether the order fits the day is another matter
# +names      reads names of people; +births: birth dates; +texts: free texts of reasons; +keys: which keys are out
# +entrants   reads ids of people; the log of a meet has them, because whoever checks its hashes needs its bytes
# +lacks      reads what the inspector's table still wants of a car
# absent      the hall is not there for this caller
# other words the code of the refusal
#
# All orders are about bench b1 and the meet "spring". volunteer and box have a key of b1, those @b3 of another
# bench, volunteer@autumn of b1 in another meet. other-club is the organiser of another club. The last four had an
# organiser's key that has expired, was taken back, was a cookie that signed out, and a link that signed in a browser.

`
