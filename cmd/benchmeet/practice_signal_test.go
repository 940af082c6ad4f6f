package main

import (
	"encoding/json"
	"fmt"
	"math"
	"net/http"
	"testing"

	"benchmeet/api/auth"
	"benchmeet/api/gen"
	"benchmeet/domain/simulate"
)

// TestPracticeSignal: what a phone at a bench hears of the signal of a practice run, from
// its stamps and from what its way lost.
func TestPracticeSignal(t *testing.T) {
	w := newWired(t, "")
	w.do("PUT", "/api/v1/benches/b1", `{"number":1,"circumference_mm":94.25}`)
	const raceS = 12
	sent := 0
	send := func(totals map[string]any, change func(*simulate.Params)) string {
		t.Helper()
		p := simulate.Usual(11, 6000, raceS)
		change(&p)
		stamps := simulate.Run(p).Stamps
		sent++
		run := fmt.Sprintf("run-%d", sent)
		last := map[string]any{
			"chunks": 1, "stamps": len(stamps), "start_source": "bench_clock", "start_us": p.StartUS, "duration_us": raceS * 1_000_000,
		}
		for name, value := range totals {
			last[name] = value
		}
		body, err := json.Marshal(map[string]any{
			"boot": "00000000000000aa", "run": run, "number": 0, "stamps_us": stamps, "last": last,
		})
		if err != nil {
			t.Fatal(err)
		}
		w.do("POST", "/api/v1/benches/b1/chunks", string(body))
		return "/api/v1/practice/runs/" + run + "/signal"
	}
	usual := func(*simulate.Params) {}
	tests := []struct {
		name   string
		totals map[string]any
		change func(*simulate.Params)
		want   gen.SignalLookFault
	}{
		{"good", nil, usual, ""},
		{"three marks", nil, func(p *simulate.Params) { p.MarkAngles, p.Marks = []float64{0, 100, 250}, 3 }, gen.Marks},
		{"nothing is seen", nil, func(p *simulate.Params) { p.FailAtS = 0.001 }, gen.Silent},
		{"a lamp", nil, func(p *simulate.Params) { p.FlickerHz = 100 }, gen.Lamp},
		{"unseen", nil, func(p *simulate.Params) { p.MissRate = 0.2 }, gen.Missed},
		{"the cable came out", nil, func(p *simulate.Params) { p.FailAtS = 5 }, gen.Breaks},
		{"lost on its way", map[string]any{"lost": 3}, usual, gen.Lost},
		{"started anew", map[string]any{"lost": 3, "restarts_us": []int{7_000_000}}, usual, gen.Restarted},
	}
	var path string
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			path = send(tt.totals, tt.change)
			a := w.send(request{role: auth.Volunteer, method: "GET", path: path})
			var look gen.SignalLook
			if err := json.Unmarshal(a.body, &look); a.status != http.StatusOK || err != nil {
				t.Fatalf("%d %s", a.status, a.body)
			}
			var got gen.SignalLookFault
			if look.Fault != nil {
				got = *look.Fault
			}
			if got != tt.want || look.Good != (tt.want == "") || (look.SafeRpm != nil) != look.Good {
				t.Errorf("it is called %s", a.body)
			}
			// What there was of a signal is drawn.
			if (look.Plot != nil) != (tt.want != gen.Silent) {
				t.Errorf("the plot is %+v", look.Plot)
			}
			if look.Plot != nil && (len(look.Plot.Dots) < 20 || math.Abs(look.Plot.Seconds-raceS) > 1) {
				t.Errorf("the plot of %d s: %s", raceS, a.body)
			}
			if angles := look.MarkAngles; tt.want == gen.Marks && (angles == nil || len(*angles) != 3) {
				t.Errorf("the marks stand at %v", angles)
			}
			if tt.want == "" && (look.Rpm == nil || *look.Rpm < 5500 || *look.Rpm > 6500) {
				t.Errorf("a roller of 6000 turns a minute: %s", a.body)
			}
		})
	}
	for _, no := range []struct {
		role   auth.Role
		path   string
		status int
		code   string
	}{
		{auth.Public, path, http.StatusUnauthorized, "sign-in"},
		{auth.Box, path, http.StatusForbidden, "not-allowed"},
		{auth.Volunteer, "/api/v1/practice/runs/none/signal", http.StatusNotFound, "no-practice-run"},
	} {
		if a := w.send(request{role: no.role, method: "GET", path: no.path}); a.status != no.status || a.problem.Code != no.code {
			t.Errorf("%s, %s: %d %s", no.role, no.path, a.status, a.body)
		}
	}
	// A phone of another bench is told nothing of this one.
	w.do("PUT", "/api/v1/benches/b3", `{"number":3,"circumference_mm":94.25}`)
	wish := auth.Wish{Club: "harbour", Role: auth.Volunteer, Label: "b3", Benches: []string{"b3"}}
	elsewhere, _, err := w.server.tokens.Make(t.Context(), wish)
	if err != nil {
		t.Fatal(err)
	}
	if a := w.send(request{token: elsewhere, method: "GET", path: path}); a.problem.Code != "not-your-bench" {
		t.Errorf("a phone of another bench: %d %s", a.status, a.body)
	}
}
