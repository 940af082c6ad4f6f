package main

import (
	"encoding/json"
	"fmt"
	"net/http"
	"testing"

	"benchmeet/api/auth"
	"benchmeet/api/gen"
)

// twoBenchesChecked makes the meet "spring" of two benches, of which the second
// reads 2 % more, and a whole reference check with car 91.
func (w *wired) twoBenchesChecked(policy string) {
	w.t.Helper()
	for _, o := range []struct{ method, path, body string }{
		{"PUT", "/api/v1/benches/b1", `{"number":1,"circumference_mm":94.25}`},
		{"PUT", "/api/v1/benches/b2", `{"number":2,"circumference_mm":94.25}`},
		{"POST", "/api/v1/meets", `{"id":"spring","plan":{"name":"Harbour Hall spring meet","date":"2027-03-06"},
			"rules":{"protest_s":0,"call_s":0,"reruns_per_entry":2,"tie":"shared","did_not_finish":"keep-distance","benches":"` + policy + `","late":"no","hand_counts":"ranks"}}`},
		{"PUT", "/api/v1/meets/spring/benches/b1", ""},
		{"PUT", "/api/v1/meets/spring/benches/b2", ""},
		{"PUT", "/api/v1/cars/ref", `{"number":91,"reference":true}`},
		{"PUT", "/api/v1/cars/kid", `{"number":7}`},
		{"POST", "/api/v1/meets/spring/reference-checks", `{"cars":["ref"],"race_s":10}`},
	} {
		w.do(o.method, o.path, o.body)
	}
	for n := range 4 {
		w.referenceRun(n%2+1, n)
	}
}

// referenceRun arms a bench for the reference check and sends the run: bench 2
// reads 2 % more, and each run a little different.
func (w *wired) referenceRun(bench, n int) {
	w.t.Helper()
	id := fmt.Sprintf("b%d", bench)
	w.do("POST", "/api/v1/benches/"+id+"/practice", `{"car_number":91,"race_s":60,"reference_meet":"spring"}`)
	var order gen.BenchOrder
	w.get("/api/v1/benches/"+id+"/order", &order)
	if order.Reference == nil || *order.RaceS != 10 {
		w.t.Fatalf("bench %d is armed with %+v", bench, order)
	}
	period := int64(7140)
	if bench == 2 {
		period = 7000
	}
	stamps := []int64{}
	for at := int64(1_000_500); at < 11_100_000; at += period + int64(n/2*3) {
		stamps = append(stamps, at)
	}
	body, err := json.Marshal(map[string]any{
		"boot": fmt.Sprintf("00000000000000%02x", n), "run": *order.Run, "number": 0, "stamps_us": stamps,
		"last": map[string]any{
			"chunks": 1, "stamps": len(stamps), "start_source": "bench_clock", "start_us": 1_000_000, "duration_us": 10_000_000,
		},
	})
	if err != nil {
		w.t.Fatal(err)
	}
	w.do("POST", "/api/v1/benches/"+id+"/chunks", string(body))
}

// A reference check over the wire: begin it, one tap a bench, and the comparison
// says what it found.
func TestReferenceCheckOverHTTP(t *testing.T) {
	w := newWired(t, "")
	w.twoBenchesChecked("report")
	var c gen.BenchComparison
	w.get("/api/v1/meets/spring/bench-comparison", &c)
	if c.Runs != 4 || !c.Connected || len(c.Benches) != 2 || len(c.Checks) != 1 || len(c.Steps) == 0 {
		t.Fatalf("comparison: %+v", c)
	}
	if check := c.Checks[0]; check.Done != 4 || len(check.Slots) != 4 || check.Slots[0].CarNumber != 91 || len(check.Benches) != 2 {
		t.Errorf("check: %+v", check)
	}
	if b := c.Benches[1]; b.Factor == nil || *b.Factor < 1.009 || *b.Factor > 1.011 || b.Verdict == nil || len(b.Says) == 0 || b.LastGood == nil {
		t.Errorf("bench 2: %+v", b)
	}

	// A dropped run is to be made again, and the bench says so.
	w.do("POST", "/api/v1/meets/spring/reference-runs/"+*c.Checks[0].Slots[0].Run+"/drop", "")
	var order gen.BenchOrder
	w.get("/api/v1/benches/b1/order", &order)
	if order.Reference == nil || order.Reference.CarNumber != 91 || order.Kind != gen.BenchOrderKindFree {
		t.Errorf("bench 1 is to %+v", order)
	}

	for _, no := range []struct {
		name, path, body, code string
		role                   auth.Role
		status                 int
	}{
		{"a car that races", "/api/v1/meets/spring/reference-checks", `{"cars":["kid"],"race_s":10}`, "reference-car", auth.Organiser, http.StatusConflict},
		{"a car twice", "/api/v1/meets/spring/reference-checks", `{"cars":["ref","ref"],"race_s":10}`, "reference-plan", auth.Organiser, http.StatusUnprocessableEntity},
		{"another meet", "/api/v1/meets/autumn/reference-checks", `{"cars":["ref"],"race_s":10}`, "no-meet", auth.Organiser, http.StatusNotFound},
		{"a bench's phone", "/api/v1/meets/spring/reference-checks", `{"cars":["ref"],"race_s":10}`, "not-allowed", auth.Bench, http.StatusForbidden},
		{"no check there", "/api/v1/benches/b1/practice", `{"car_number":91,"race_s":10,"reference_meet":"autumn"}`, "reference-none", auth.Bench, http.StatusConflict},
		{"an ordinary car", "/api/v1/benches/b1/practice", `{"car_number":7,"race_s":10,"reference_meet":"spring"}`, "reference-not-planned", auth.Bench, http.StatusConflict},
	} {
		t.Run(no.name, func(t *testing.T) {
			a := w.send(request{role: no.role, method: "POST", path: no.path, body: no.body})
			if a.status != no.status || a.problem.Code != no.code {
				t.Errorf("got %d %s", a.status, a.body)
			}
		})
	}
	var raw map[string]json.RawMessage
	w.get("/api/v1/meets/spring/bench-comparison", &raw)
	if len(raw) == 0 {
		t.Error("the comparison is not there any more")
	}
}
