package main

import (
	"encoding/json"
	"fmt"
	"net/http"
	"slices"
	"strings"
	"testing"
	"time"

	"benchmeet/api/auth"
	"benchmeet/api/gen"
)

// TestPracticeAfternoon: through the server with its store, from an open session to what
// the curves, the comparison and the tables say.
func TestPracticeAfternoon(t *testing.T) {
	w := newWired(t, "")
	w.do("PUT", "/api/v1/benches/b1", `{"number":1,"circumference_mm":94.248}`)
	var opened gen.Receipt
	must(t, json.Unmarshal(w.do("POST", "/api/v1/practice/sessions", `{"benches":["b1"],"race_s":10,"turn":1}`).body, &opened))
	session := "/api/v1/practice/sessions/" + *opened.Id
	w.do("POST", session+"/queue", `{"car_number":7}`)
	gear := func(driving, driven string) {
		w.do("POST", "/api/v1/practice/cars/7/setups", `{"setup":{"driving_teeth":`+driving+`,"driven_teeth":`+driven+`}}`)
	}
	var order gen.BenchOrder
	boot := 0
	run := func(periodUS int64) string {
		w.get("/api/v1/benches/b1/order", &order)
		if order.Kind != gen.BenchOrderKindPractice || order.StartNumber == nil || *order.StartNumber != 7 || *order.Session != *opened.Id {
			t.Fatalf("the bench waits for %+v", order)
		}
		boot++
		w.practise("b1", *order.Run, "00000000000000a"+string(rune('0'+boot)), periodUS)
		return *order.Run
	}
	gear("10", "40")
	w.do("POST", "/api/v1/benches/b1/practice/guess", `{"distance_m":130}`)
	first := run(7000)
	gear("12", "38")
	run(6900)
	run(6905)
	gear("10", "40")
	run(7004)

	var life gen.CarLife
	w.get("/api/v1/practice/cars/7", &life)
	if len(life.Runs) != 4 || life.State != 1 || life.Fitting != 3 || len(life.States) != 2 ||
		*life.Runs[0].GuessM != 130 || !life.Runs[0].Counts ||
		*life.Runs[1].State != 2 || *life.Runs[3].Fitting != 3 {
		t.Errorf("%+v", life)
	}
	var compared gen.CarCompared
	w.get("/api/v1/practice/cars/7/compared?from=1&to=2", &compared)
	// Ten runs are usual, and one look more is kept for fittings that come again.
	if len(compared.Unfair) != 0 || len(compared.Effects) != 4 || compared.Effects[0].Compared != 4 || compared.Effects[0].Left != 7 ||
		len(compared.Runs) != 4 || compared.Next == nil {
		t.Errorf("%+v", compared)
	}
	var curve gen.PracticeCurve
	w.get("/api/v1/practice/runs/"+first+"/curve", &curve)
	if len(curve.Samples) < 50 || *curve.ToS < 9.9 || *curve.ToS > 10.1 || *curve.Run.RaceS != 10 {
		t.Errorf("a curve of %d samples to %v s", len(curve.Samples), curve.ToS)
	}
	for _, one := range curve.Samples {
		if want := 0.094248 / 0.007; one.SpeedMps < 0.99*want || one.SpeedMps > 1.01*want {
			t.Fatalf("%g m/s, where a turn of 94.248 mm takes 7 ms", one.SpeedMps)
		}
	}
	var figures gen.SessionFigures
	w.get(session+"/figures", &figures)
	if len(figures.Cars) != 1 || figures.Cars[0].Runs != 4 || figures.Cars[0].Changes != 3 ||
		len(figures.Cars[0].Answers) != 1 || figures.Cars[0].ClosestGuess == nil {
		t.Errorf("%+v", figures)
	}
	var class gen.PracticeClass
	w.get("/api/v1/practice/class?session="+*opened.Id, &class)
	if len(class.Points) != 0 || class.Cars != 1 || class.LeastCars != 5 {
		t.Errorf("the class of one car: %+v", class)
	}
	table := w.send(request{role: auth.Organiser, method: http.MethodGet, path: "/api/v1/practice/cars/7/table"})
	rows := strings.Split(strings.TrimSpace(string(table.body)), "\r\n")
	if table.status != 200 || len(rows) != 5 || !strings.Contains(rows[2], ",2,2,,12,38,") {
		t.Errorf("%d:\n%s", table.status, table.body)
	}

	// A run of the wrong car leaves the list and comes back; the session counts with it.
	w.do("POST", "/api/v1/practice/runs/"+first+"/car", `{"car_number":8}`)
	w.get("/api/v1/practice/cars/7", &life)
	if len(life.Runs) != 3 {
		t.Errorf("%d runs are left", len(life.Runs))
	}
	w.do("POST", "/api/v1/practice/runs/"+first+"/car", `{"car_number":7}`)
	w.do("POST", "/api/v1/practice/runs/"+first+"/drop", `{"why":"helped"}`)
	var one gen.PracticeSession
	w.get(session, &one)
	if one.Runs != 3 || len(one.Cars) == 0 || one.Cars[0].CarNumber != 7 || one.Cars[0].Best == nil {
		t.Errorf("%+v", one)
	}

	w.do("POST", "/api/v1/benches/b1/practice/cancel", ``)
	var idle gen.BenchOrder // what is absent must not stay from before
	w.get("/api/v1/benches/b1/order", &idle)
	if idle.Kind != gen.BenchOrderKindFree {
		t.Errorf("after it was taken back the bench waits for %+v", idle)
	}
	w.do("POST", session+"/close", ``)
}

// TestMeetsGoFirst: a called heat takes a bench from practice, and gives it back.
func TestMeetsGoFirst(t *testing.T) {
	w := newWired(t, "")
	w.do("PUT", "/api/v1/benches/b1", `{"number":1,"circumference_mm":94.248}`)
	w.do("PUT", "/api/v1/benches/b2", `{"number":2,"circumference_mm":94.248}`)
	var opened gen.Receipt
	must(t, json.Unmarshal(w.do("POST", "/api/v1/practice/sessions", `{"benches":["b1"],"race_s":10}`).body, &opened))
	w.do("POST", "/api/v1/practice/sessions/"+*opened.Id+"/queue", `{"car_number":77}`)
	var before, during gen.BenchOrder
	w.get("/api/v1/benches/b1/order", &before)
	w.smallMeet()
	w.get("/api/v1/benches/b1/order", &during)
	if before.Kind != gen.BenchOrderKindPractice || during.Kind != gen.BenchOrderKindHeat || during.Session != nil {
		t.Errorf("before the call %+v, after it %+v", before, during)
	}
	// Once the heat is over the bench waits for the same run of the same car again.
	w.raceFirst()
	var after gen.BenchOrder
	w.get("/api/v1/benches/b1/order", &after)
	if after.Kind != gen.BenchOrderKindPractice || *after.Run != *before.Run || *after.StartNumber != 77 || *after.Session != *opened.Id {
		t.Errorf("after the heat the bench waits for %+v, and not for %s", after, *before.Run)
	}
	w.practise("b1", *after.Run, "00000000000000cc", 7000)
	var life gen.CarLife
	w.get("/api/v1/practice/cars/77", &life)
	if len(life.Runs) != 1 || !life.Runs[0].Counts || *life.Runs[0].Session != *opened.Id {
		t.Errorf("car 77 has %+v", life.Runs)
	}
}

// TestPracticeKnowsNobody: notes of a car, guesses and runs are kept by its number. Nothing
// that practice answers has a child's name, before its erasure or after it, and what its car
// did stays for who drives it next.
func TestPracticeKnowsNobody(t *testing.T) {
	databases(t, func(t *testing.T, database string) {
		w := newWired(t, database)
		var opened gen.Receipt
		w.do("PUT", "/api/v1/benches/b1", `{"number":1,"circumference_mm":94.248}`)
		must(t, json.Unmarshal(w.do("POST", "/api/v1/practice/sessions", `{"benches":["b1"],"race_s":10}`).body, &opened))
		session := "/api/v1/practice/sessions/" + *opened.Id
		w.do("PUT", "/api/v1/cars/seven", `{"number":7}`)
		w.do("POST", session+"/queue", `{"car_number":7}`)
		w.do("POST", "/api/v1/practice/cars/7/setups", `{"setup":{"driving_teeth":10,"driven_teeth":40}}`)
		w.do("POST", "/api/v1/benches/b1/practice/guess", `{"distance_m":130}`)
		var order gen.BenchOrder
		w.get("/api/v1/benches/b1/order", &order)
		w.practise("b1", *order.Run, "00000000000000dd", 7000)
		w.smallMeet()
		w.do("PUT", meetPath+"/divisions/tuned", `{"name":"Tuned","age_from":0,"age_to":0,
			"class":{"name":"Tuned class","lap_m":1},"stages":[{"kind":"knockout","race_s":10,"lanes":2}]}`)
		w.do("POST", meetPath+"/entries", `{"id":"e7","division":"tuned","start_number":7,"car":"seven",
			"person":{"name":"Seegras Quay","display_name":"Seegras","on_screen":true,"in_results":true,"photo":false}}`)

		said := func(when string) {
			t.Helper()
			for _, path := range []string{
				"/api/v1/practice", "/api/v1/practice/cars/7", "/api/v1/practice/cars/7/table", "/api/v1/practice/runs/" + *order.Run + "/curve",
				"/api/v1/practice/sessions", session, session + "/figures", "/api/v1/practice/class", "/api/v1/practice/class-table",
				"/api/v1/cars",
			} {
				a := w.send(request{role: auth.Organiser, method: http.MethodGet, path: path})
				if a.status != http.StatusOK || strings.Contains(string(a.body), "Seegras") {
					t.Errorf("%s %s: %d %s", when, path, a.status, a.body)
				}
			}
			var life gen.CarLife
			w.get("/api/v1/practice/cars/7", &life)
			if len(life.Runs) != 1 || *life.Runs[0].GuessM != 130 || len(life.Steps) != 1 {
				t.Errorf("%s car 7 has %+v", when, life)
			}
		}
		said("before the erasure")
		var entries gen.EntryList
		w.get(meetPath+"/entries", &entries)
		for _, e := range entries.Entries {
			if e.Id == "e7" {
				w.do("DELETE", "/api/v1/people/"+*e.Entrant, "")
			}
		}
		said("after it")
	})
}

// TestTuningLapsesThePass: a car that passed and is changed since is inspected again, and
// only that one.
func TestTuningLapsesThePass(t *testing.T) {
	w := newWired(t, "")
	w.smallMeet()
	w.do("PUT", "/api/v1/cars/seven", `{"number":7}`)
	w.do("PUT", meetPath+"/divisions/tuned", `{"name":"Tuned","age_from":0,"age_to":0,
		"class":{"name":"Tuned class","lap_m":1,"checklist":[{"id":"axles","name":"Axles are straight"}]},
		"stages":[{"kind":"knockout","race_s":10,"lanes":2}]}`)
	for _, e := range []string{`{"id":"e7","division":"tuned","start_number":7,"car":"seven",`, `{"id":"e8","division":"tuned","start_number":8,`} {
		w.do("POST", meetPath+"/entries", e+`"person":{"name":"Child Quay","display_name":"Nick","on_screen":true,"in_results":true,"photo":false}}`)
	}
	for _, e := range []string{"e7", "e8"} {
		w.do("POST", meetPath+"/entries/"+e+"/inspection", `{"values":[{"item":"axles","yes":true}]}`)
	}
	inspected := func() map[string]string {
		var table gen.InspectorTable
		w.get(meetPath+"/inspection", &table)
		out := map[string]string{}
		for _, e := range table.Entries {
			out[e.Racer.Entry] = string(e.Inspected)
		}
		return out
	}
	if was := inspected(); was["e7"] != "passed" || was["e8"] != "passed" {
		t.Fatalf("before the change: %v", was)
	}
	w.do("POST", "/api/v1/practice/cars/7/setups", `{"setup":{"driving_teeth":10,"driven_teeth":40}}`)
	if now := inspected(); now["e7"] != "lapsed" || now["e8"] != "passed" {
		t.Errorf("after the change: %v", now)
	}
}

// TestChangeComesLate: a change that a phone noted while it was cut off counts from then. The
// runs that the bench made meanwhile are of it on the page of the car, in the table and in
// the comparison; the log names them, and a retry changes nothing more.
func TestChangeComesLate(t *testing.T) {
	w := newWired(t, "")
	w.do("PUT", "/api/v1/benches/b1", `{"number":1,"circumference_mm":94.248}`)
	gear := func(driving int, more string) string {
		return fmt.Sprintf(`{"setup":{"driving_teeth":%d,"driven_teeth":40}%s}`, driving, more)
	}
	const setups = "/api/v1/practice/cars/7/setups"
	w.do("POST", setups, gear(10, ""))
	run := func(n int, periodUS int64) {
		var order gen.BenchOrder
		w.do("POST", "/api/v1/benches/b1/practice", `{"race_s":10,"car_number":7}`)
		w.get("/api/v1/benches/b1/order", &order)
		w.practise("b1", *order.Run, fmt.Sprintf("%016x", n), periodUS)
	}
	run(1, 7000)
	noted := time.Now().UTC()
	run(2, 6900)
	run(3, 6905)
	late := request{
		role: auth.Organiser, method: http.MethodPost, path: setups, key: "019f3b6a-7c4d-7000-8000-000000000001",
		body: gear(12, `,"noted":"`+noted.Format(time.RFC3339Nano)+`"`),
	}
	for range 2 {
		if a := w.send(late); a.status != http.StatusOK || !strings.Contains(string(a.body), "PracticeRestated") {
			t.Fatalf("%d: %s", a.status, a.body)
		}
	}
	run(4, 6902)

	var life gen.CarLife
	w.get("/api/v1/practice/cars/7", &life)
	var got []string
	for _, r := range life.Runs {
		got = append(got, fmt.Sprint(*r.State, *r.Fitting, r.Restated != nil))
	}
	if want := []string{"1 1 false", "2 2 true", "2 2 true", "2 2 false"}; !slices.Equal(got, want) {
		t.Errorf("the runs are of %v, not of %v", got, want)
	}
	at := noted.Truncate(time.Microsecond)
	if s := life.Steps; len(s) != 2 || s[0].Came != nil || !s[1].At.Equal(at) || !s[1].Came.After(life.Runs[2].At) {
		t.Errorf("the steps are %+v", s)
	}
	if life.States[0].Runs != 1 || life.States[1].Runs != 3 {
		t.Errorf("the states have %+v", life.States)
	}
	var compared gen.CarCompared
	w.get("/api/v1/practice/cars/7/compared?from=1&to=2", &compared)
	states := []int{}
	for _, r := range compared.Runs {
		states = append(states, *r.State)
	}
	if !slices.Equal(states, []int{1, 2, 2, 2}) || len(compared.Unfair) != 0 {
		t.Errorf("compared are %v: %+v", states, compared)
	}
	table := w.send(request{role: auth.Organiser, method: http.MethodGet, path: "/api/v1/practice/cars/7/table"})
	if rows := strings.Split(string(table.body), "\r\n"); !strings.Contains(rows[2], ",2,2,,12,40,") {
		t.Errorf("%d:\n%s", table.status, table.body)
	}

	// A clock that is ahead is not believed, and no time at all is refused.
	w.do("POST", setups, gear(10, `,"noted":"`+noted.Add(time.Hour).Format(time.RFC3339)+`"`))
	if a := w.send(request{role: auth.Organiser, method: http.MethodPost, path: setups, body: gear(11, `,"noted":"at four"`)}); a.status != http.StatusBadRequest {
		t.Errorf("noted at four: %d %s", a.status, a.body)
	}
	var after gen.CarLife
	w.get("/api/v1/practice/cars/7", &after)
	if len(after.Steps) != 3 || after.Steps[2].Came != nil || *after.Runs[3].State != 2 || !after.Steps[2].At.After(after.Runs[3].At) {
		t.Errorf("after a clock that is ahead the steps are %+v", after.Steps)
	}
}
