package main

import (
	"bytes"
	"fmt"
	"net/http"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"
	"unicode/utf8"

	"benchmeet/api/auth"
	"benchmeet/api/gen"
)

// icalProperty is a content line of RFC 5545, section 3.1, taken apart.
type icalProperty struct {
	name   string
	params map[string]string
	value  string
}

// icalComponent is a component of section 3.6 with what is in it.
type icalComponent struct {
	name       string
	properties []icalProperty
	components []*icalComponent
}

// one is the value of a property that stands there once.
func (c *icalComponent) one(t *testing.T, name string) string {
	t.Helper()
	var found []string
	for _, p := range c.properties {
		if p.name == name {
			found = append(found, p.value)
		}
	}
	if len(found) != 1 {
		t.Fatalf("%s has %s %d times", c.name, name, len(found))
	}
	return found[0]
}

// text is a TEXT value as it is meant (section 3.3.11).
func (c *icalComponent) text(t *testing.T, name string) string {
	t.Helper()
	return strings.NewReplacer(`\\`, `\`, `\;`, `;`, `\,`, `,`, `\n`, "\n", `\N`, "\n").Replace(c.one(t, name))
}

// at is a DATE-TIME with UTC time (form 2 of section 3.3.5).
func (c *icalComponent) at(t *testing.T, name string) time.Time {
	t.Helper()
	at, err := time.Parse("20060102T150405Z", c.one(t, name))
	if err != nil {
		t.Fatal(err)
	}
	return at
}

// The grammar of section 3.1: no quoted parameter and no list of them is written here, so none is read.
var (
	icalLine = regexp.MustCompile(`^([A-Za-z0-9-]+)((?:;[A-Za-z0-9-]+=[^\x00-\x08\x0a-\x1f\x7f";:,]*)*):(.*)$`)
	// A TEXT: TSAFE-CHAR, ":", DQUOTE and ESCAPED-CHAR (section 3.3.11).
	icalText = regexp.MustCompile(`^(?:[^\x00-\x08\x0a-\x1f\x7f\\;,]|\\[\\;,nN])*$`)
	// DATE-TIME in UTC, DATE, INTEGER and DURATION (sections 3.3.4 to 3.3.8).
	icalUTC      = regexp.MustCompile(`^\d{8}T(?:[01]\d|2[0-3])[0-5]\d(?:[0-5]\d|60)Z$`)
	icalDate     = regexp.MustCompile(`^\d{8}$`)
	icalInteger  = regexp.MustCompile(`^[+-]?\d{1,10}$`)
	icalDuration = regexp.MustCompile(`^[+-]?P(?:\d+W|\d+D(?:T\d+H|T\d+M|T\d+S)?|T(?:\d+H(?:\d+M(?:\d+S)?)?|\d+M(?:\d+S)?|\d+S))$`)
	icalValues   = map[string]*regexp.Regexp{
		"VERSION": regexp.MustCompile(`^2\.0$`), "CALSCALE": regexp.MustCompile(`^GREGORIAN$`), "PRODID": icalText,
		"UID": icalText, "SUMMARY": icalText, "DESCRIPTION": icalText, "LOCATION": icalText, "NAME": icalText, "X-WR-CALNAME": icalText,
		"DTSTAMP": icalUTC, "LAST-MODIFIED": icalUTC, "CREATED": icalUTC, "SEQUENCE": icalInteger,
		"REFRESH-INTERVAL": icalDuration, "X-PUBLISHED-TTL": icalDuration,
		"STATUS": regexp.MustCompile(`^(?:TENTATIVE|CONFIRMED|CANCELLED)$`), "TRANSP": regexp.MustCompile(`^(?:OPAQUE|TRANSPARENT)$`),
	}
	// Those of an event that "MUST NOT occur more than once" (section 3.6.1), and those of a calendar (section 3.6).
	icalOnce = map[string][]string{
		"VCALENDAR": {"PRODID", "VERSION", "CALSCALE", "METHOD", "NAME", "REFRESH-INTERVAL"},
		"VEVENT": {
			"DTSTAMP", "UID", "DTSTART", "CLASS", "CREATED", "DESCRIPTION", "GEO", "LAST-MODIFIED", "LOCATION", "ORGANIZER", "PRIORITY",
			"SEQUENCE", "STATUS", "SUMMARY", "TRANSP", "URL", "RECURRENCE-ID", "DTEND", "DURATION",
		},
	}
)

// readICal reads a calendar by the rules of RFC 5545 alone.
func readICal(t *testing.T, raw []byte) *icalComponent {
	t.Helper()
	if !utf8.Valid(raw) {
		t.Fatal("the calendar is not UTF-8")
	}
	text := string(raw)
	if !strings.HasSuffix(text, "\r\n") {
		t.Fatal("the last line has no end")
	}
	var unfolded []string
	for _, line := range strings.Split(strings.TrimSuffix(text, "\r\n"), "\r\n") {
		if strings.ContainsAny(line, "\r\n") {
			t.Fatalf("a line ends by half: %q", line)
		}
		if len(line) > 75 {
			t.Errorf("a line has %d octets: %s", len(line), line)
		}
		if !utf8.ValidString(line) {
			t.Errorf("a letter is cut in two: %q", line)
		}
		switch {
		case strings.HasPrefix(line, " ") || strings.HasPrefix(line, "\t"):
			if len(unfolded) == 0 {
				t.Fatal("the first line goes on")
			}
			unfolded[len(unfolded)-1] += line[1:]
		default:
			unfolded = append(unfolded, line)
		}
	}
	root := &icalComponent{}
	open := []*icalComponent{root}
	for _, line := range unfolded {
		parts := icalLine.FindStringSubmatch(line)
		if parts == nil {
			t.Fatalf("no content line: %q", line)
		}
		p := icalProperty{name: strings.ToUpper(parts[1]), params: map[string]string{}, value: parts[3]}
		for _, param := range strings.Split(parts[2], ";")[1:] {
			name, value, _ := strings.Cut(param, "=")
			p.params[strings.ToUpper(name)] = value
		}
		in := open[len(open)-1]
		switch p.name {
		case "BEGIN":
			c := &icalComponent{name: p.value}
			in.components = append(in.components, c)
			open = append(open, c)
		case "END":
			if p.value != in.name {
				t.Fatalf("%s ends as %s", in.name, p.value)
			}
			in.check(t)
			open = open[:len(open)-1]
		default:
			p.check(t)
			in.properties = append(in.properties, p)
		}
	}
	if len(open) != 1 || len(root.components) != 1 || len(root.properties) != 0 || root.components[0].name != "VCALENDAR" {
		t.Fatal("the stream is not one calendar")
	}
	return root.components[0]
}

// check holds a value to its type.
func (p icalProperty) check(t *testing.T) {
	t.Helper()
	want, known := icalValues[p.name]
	switch {
	case p.name == "DTSTART" || p.name == "DTEND":
		want, known = icalUTC, true
		if p.params["VALUE"] == "DATE" {
			want = icalDate
		}
		layout := map[bool]string{true: "20060102", false: "20060102T150405Z"}[want == icalDate]
		if _, err := time.Parse(layout, p.value); err != nil {
			t.Errorf("%s: %v", p.name, err)
		}
	case p.name == "REFRESH-INTERVAL" && p.params["VALUE"] != "DURATION":
		t.Error("REFRESH-INTERVAL does not name its type, as RFC 7986 has it")
	}
	if !known {
		t.Fatalf("%s is no property of the standards", p.name)
	}
	if !want.MatchString(p.value) {
		t.Errorf("%s is %q", p.name, p.value)
	}
}

// check holds a component to what has to stand in it.
func (c *icalComponent) check(t *testing.T) {
	t.Helper()
	count := map[string]int{}
	for _, p := range c.properties {
		count[p.name]++
	}
	for _, name := range icalOnce[c.name] {
		if count[name] > 1 {
			t.Errorf("%s has %s %d times", c.name, name, count[name])
		}
	}
	switch c.name {
	case "VCALENDAR":
		if count["PRODID"] != 1 || count["VERSION"] != 1 || len(c.components) == 0 {
			t.Errorf("the calendar has %v and %d components", count, len(c.components))
		}
	case "VEVENT":
		// Without METHOD an event has to have a start, and both ends are of one kind.
		if count["UID"] != 1 || count["DTSTAMP"] != 1 || count["DTSTART"] != 1 || count["DTEND"]+count["DURATION"] > 1 {
			t.Errorf("the event has %v", count)
		}
		if count["DTEND"] == 1 && !c.at(t, "DTEND").After(c.at(t, "DTSTART")) {
			t.Error("an event ends before it begins")
		}
	default:
		t.Errorf("there is a component %s", c.name)
	}
}

const (
	oddMeet     = `Frühjahrs-Rennen; im Hafen, mit allen Klassen: „Grüße an die Möwen“ und noch viel mehr Wörtern`
	oddDivision = `Jüngste, 6 bis 8; erste Gruppe \ „Möwen“`
)

// TestCalendarOfTasks: families read when nobody races and when the prizes are given; what the
// club does in between concerns nobody at home.
func TestCalendarOfTasks(t *testing.T) {
	w := newWired(t, "")
	w.smallMeet()
	w.do("PUT", meetPath+"/plan", `{"name":"Harbour Hall spring meet","date":"2027-04-17","opens":"09:00","closes":"17:00","time_zone":"Europe/Berlin",
		"packing_min":30,"prizes_min":20,"tasks":[{"kind":"set-up","minutes":30},{"kind":"briefing","minutes":10},
		{"kind":"lunch","minutes":45,"at":"12:15"},{"kind":"lunch","minutes":20,"at":"13:00","until":"14:30"}]}`)
	var address gen.CalendarAddress
	w.get(meetPath+"/calendar", &address)
	a := w.send(request{role: auth.Public, method: http.MethodGet, path: address.Path, key: "none"})
	var got []string
	for _, e := range readICal(t, a.body).components {
		if strings.HasPrefix(e.one(t, "UID"), "task-") {
			// Berlin is two hours ahead of UTC in April.
			from, until := e.at(t, "DTSTART").Add(2*time.Hour), e.at(t, "DTEND").Add(2*time.Hour)
			got = append(got, fmt.Sprintf("%s-%s %s", from.Format("15:04"), until.Format("15:04"), e.text(t, "SUMMARY")))
		}
	}
	want := []string{
		"12:15-13:00 Lunch: nobody races",
		"13:00-14:30 Lunch: 20 minutes for each child between its races",
		"16:10-16:30 Prize-giving",
	}
	if !slices.Equal(got, want) {
		t.Errorf("the tasks are %q, want %q", got, want)
	}
}

// TestCalendar: the frames of a day's divisions by the standard's grammar, at an address that nobody guesses.
func TestCalendar(t *testing.T) {
	databases(t, func(t *testing.T, database string) {
		began := time.Now()
		morning := time.Date(2027, 4, 17, 8, 2, 30, 0, time.UTC)
		w := newWired(t, database, func(o *serverOptions) {
			o.Clock = func() time.Time { return morning.Add(time.Since(began)) }
		})
		w.smallMeet() // of which the first heat is called
		w.do("PUT", meetPath+"/plan", fmt.Sprintf(
			`{"name":%q,"place":"Harbour Hall, Pier 2","date":"2027-04-17","opens":"09:00","closes":"18:00","time_zone":"Europe/Berlin"}`, oddMeet))
		w.do("PUT", meetPath+"/divisions/junior", fmt.Sprintf(`{"name":%q,"age_from":0,"age_to":0,
			"class":{"name":"Open class","lap_m":1},"stages":[{"kind":"timed-rounds","rounds":2,"race_s":60,"lanes":2,"rule":"best"}]}`, oddDivision))
		for n := 11; n <= 14; n++ {
			w.do("POST", meetPath+"/entries", fmt.Sprintf(`{"id":"e%d","division":"junior","start_number":%d,
				"person":{"name":"Child %d Quay","display_name":"Nick %d","on_screen":true,"in_results":true,"photo":false}}`, n, n, n, n))
			w.do("POST", fmt.Sprintf("%s/entries/e%d/check-in", meetPath, n), `{"there":true}`)
		}
		w.do("POST", meetPath+"/divisions/junior/entries-closed", `{"closed":true}`)
		w.do("POST", meetPath+"/divisions/junior/draw", "")

		var address, again gen.CalendarAddress
		w.get(meetPath+"/calendar", &address)
		w.get(meetPath+"/calendar", &again)
		key := strings.Split(address.Path, "/")[6]
		if address != again || len(key) < 22 { // 128 bits
			t.Fatalf("the address is %q and %q", address.Path, again.Path)
		}
		read := func() *icalComponent {
			t.Helper()
			a := w.send(request{role: auth.Public, method: http.MethodGet, path: address.Path, key: "none"})
			if a.status != http.StatusOK || !strings.HasPrefix(a.kind, "text/calendar") {
				t.Fatalf("%d %s %s", a.status, a.kind, a.body)
			}
			b := w.send(request{role: auth.Public, method: http.MethodGet, path: address.Path, key: "none"})
			if !bytes.Equal(a.body, b.body) {
				t.Errorf("two readings differ: %s", b.body)
			}
			for _, name := range []string{"Quay", "Nick", "Child"} {
				if bytes.Contains(a.body, []byte(name)) {
					t.Errorf("the calendar has the name %s: %s", name, a.body)
				}
			}
			return readICal(t, a.body)
		}
		for _, path := range []string{
			strings.Replace(address.Path, key, "none", 1), strings.Replace(address.Path, key, key[1:], 1),
			strings.Replace(address.Path, "spring", "autumn", 1),
		} {
			if a := w.send(request{role: auth.Public, method: http.MethodGet, path: path, key: "none"}); a.status != http.StatusNotFound {
				t.Errorf("%s answers %d", path, a.status)
			}
		}

		guess := read()
		if got := guess.text(t, "NAME"); got != oddMeet {
			t.Errorf("the calendar is called %q", got)
		}
		if len(guess.components) != 3 {
			t.Fatalf("there are %d events", len(guess.components))
		}
		whole, junior, open := guess.components[0], guess.components[1], guess.components[2]
		// Nine to six in Berlin is seven to four in UTC, in April.
		opens, closes := time.Date(2027, 4, 17, 7, 0, 0, 0, time.UTC), time.Date(2027, 4, 17, 16, 0, 0, 0, time.UTC)
		if !whole.at(t, "DTSTART").Equal(opens) || !whole.at(t, "DTEND").Equal(closes) || whole.text(t, "SUMMARY") != oddMeet {
			t.Errorf("the day is %+v", whole)
		}
		if whole.text(t, "LOCATION") != "Harbour Hall, Pier 2" {
			t.Errorf("the day is at %q", whole.text(t, "LOCATION"))
		}
		if !strings.HasPrefix(junior.text(t, "SUMMARY"), oddDivision+": likely not before 10:") || junior.one(t, "STATUS") != "TENTATIVE" {
			t.Errorf("before anything was told the juniors are %+v", junior)
		}
		if !open.at(t, "DTSTART").Equal(time.Date(2027, 4, 17, 8, 0, 0, 0, time.UTC)) ||
			!strings.Contains(open.text(t, "DESCRIPTION"), "first heat was called at 10:00") {
			t.Errorf("the division that races is %+v", open)
		}

		w.do("POST", meetPath+"/day-plan/tell", `{}`)
		plan := w.dayPlan(auth.Public)
		var promise time.Time
		for _, h := range plan.Heats {
			if h.Division == "junior" && (promise.IsZero() || h.NotBefore.Before(promise)) {
				promise = *h.NotBefore
			}
		}
		told := read()
		uid := func(c *icalComponent) string { return c.one(t, "UID") }
		if got, want := mapped(told.components, uid), mapped(guess.components, uid); !slices.Equal(got, want) {
			t.Errorf("the events were %v and are %v", want, got)
		}
		junior = told.components[1]
		if !junior.at(t, "DTSTART").Equal(promise) || junior.one(t, "STATUS") != "CONFIRMED" {
			t.Errorf("told was %s, and the juniors are %+v", promise, junior)
		}
		berlin := promise.Add(2 * time.Hour).Format("15:04")
		if got := junior.text(t, "SUMMARY"); got != oddDivision+": not before "+berlin {
			t.Errorf("the juniors are called %q", got)
		}
		if got := junior.text(t, "DESCRIPTION"); !strings.Contains(got, "called before "+berlin) || !strings.Contains(got, "Times move") {
			t.Errorf("the juniors are %q", got)
		}
		for _, e := range told.components {
			if e.at(t, "DTSTART").Before(opens) || e.at(t, "DTEND").After(closes) {
				t.Errorf("an event is not within the day: %+v", e)
			}
			if e.at(t, "DTSTAMP").After(morning.Add(time.Since(began))) {
				t.Error("an event is stamped ahead of the clock")
			}
		}

		// The hall closes before the last race: the frame ends with it.
		w.do("PUT", meetPath+"/plan", fmt.Sprintf(`{"name":%q,"date":"2027-04-17","opens":"09:00","closes":"10:20","time_zone":"Europe/Berlin"}`, oddMeet))
		for _, e := range read().components {
			if e.at(t, "DTEND").After(time.Date(2027, 4, 17, 8, 20, 0, 0, time.UTC)) {
				t.Errorf("an event goes on behind the close of the hall: %+v", e)
			}
		}
		// Without hours the day is a date.
		w.do("PUT", meetPath+"/plan", `{"name":"Spring","date":"2027-04-17","time_zone":"Europe/Berlin"}`)
		if whole := read().components[0]; whole.one(t, "DTSTART") != "20270417" {
			t.Errorf("the day is %+v", whole)
		}
	})
}

func mapped[A, B any](list []A, of func(A) B) []B {
	out := make([]B, len(list))
	for i, one := range list {
		out[i] = of(one)
	}
	return out
}
