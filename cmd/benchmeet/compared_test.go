package main

import (
	"encoding/json"
	"fmt"
	"math"
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
	if b := c.Benches[1]; b.Factor == nil || *b.Factor < 1.009 || *b.Factor > 1.011 || b.Verdict == nil || len(b.Says) == 0 ||
		b.LastGood == nil {
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
		{
			"a car that races", "/api/v1/meets/spring/reference-checks", `{"cars":["kid"],"race_s":10}`, "reference-car", auth.Organiser,
			http.StatusConflict,
		},
		{
			"a car twice", "/api/v1/meets/spring/reference-checks", `{"cars":["ref","ref"],"race_s":10}`, "reference-plan", auth.Organiser,
			http.StatusUnprocessableEntity,
		},
		{"another meet", "/api/v1/meets/autumn/reference-checks", `{"cars":["ref"],"race_s":10}`, "no-meet", auth.Organiser, http.StatusNotFound},
		{
			"a bench's phone", "/api/v1/meets/spring/reference-checks", `{"cars":["ref"],"race_s":10}`, "not-allowed", auth.Volunteer,
			http.StatusForbidden,
		},
		{
			"no check there", "/api/v1/benches/b1/practice", `{"car_number":91,"race_s":10,"reference_meet":"autumn"}`, "reference-none", auth.Volunteer,
			http.StatusConflict,
		},
		{
			"an ordinary car", "/api/v1/benches/b1/practice", `{"car_number":7,"race_s":10,"reference_meet":"spring"}`, "reference-not-planned",
			auth.Volunteer, http.StatusConflict,
		},
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

// Adopting factors over the wire: just what was looked at, under the policy that
// was declared, and both values stand in the results.
func TestAdoptFactorsOverHTTP(t *testing.T) {
	w := newWired(t, "")
	w.twoBenchesChecked("correct")
	w.do("PUT", "/api/v1/meets/spring/divisions/open", `{"name":"Open","age_from":0,"age_to":0,
		"class":{"name":"Open class","lap_m":1},"stages":[{"kind":"timed-rounds","race_s":10,"lanes":2,"rounds":1,"rule":"best"}]}`)
	for i := 1; i <= 2; i++ {
		w.do("POST", "/api/v1/meets/spring/entries", fmt.Sprintf(`{"id":"e%d","division":"open","start_number":%d,
			"person":{"name":"Child %d Quay","display_name":"","on_screen":true,"in_results":true,"photo":false}}`, i, i, i))
		w.do("POST", fmt.Sprintf("/api/v1/meets/spring/entries/e%d/check-in", i), `{"there":true}`)
	}
	w.do("POST", "/api/v1/meets/spring/divisions/open/entries-closed", `{"closed":true}`)
	w.do("POST", "/api/v1/meets/spring/divisions/open/draw", "")
	w.do("POST", "/api/v1/meets/spring/heats/open-1.1.1/call", `{"benches":["b1","b2"]}`)
	var c gen.BenchComparison
	look := func() {
		t.Helper()
		c = gen.BenchComparison{}
		w.get("/api/v1/meets/spring/bench-comparison", &c)
	}
	look()
	if c.Offer.Offer != nil || c.Offer.Not == nil || c.Offer.Not.Code != "factors-heat" || len(c.Offer.Factors) != 2 {
		t.Fatalf("while a heat is called: %+v", c.Offer)
	}
	h := w.startFirstHeat()
	for _, l := range h.Lanes {
		w.sendRun(*l.Bench, *l.Armed, "00000000000000aa", 7000)
	}
	look()
	if c.Offer.Offer == nil || c.Factors != nil {
		t.Fatalf("between heats: %+v", c.Offer)
	}
	body := func(offer string) string {
		return fmt.Sprintf(`{"offer":%q,"reason":{"code":"benches-differ"}}`, offer)
	}
	old := w.send(request{role: auth.Organiser, method: "POST", path: "/api/v1/meets/spring/factors", body: body("0123456789abcdef")})
	if old.status != http.StatusConflict || old.problem.Code != "factors-moved" {
		t.Errorf("an old offer: %d %s", old.status, old.body)
	}
	key := "01890000-0000-7000-8000-00000000fac7"
	for range 2 { // the second is a retry
		a := w.send(request{role: auth.Official, method: "POST", path: "/api/v1/meets/spring/factors", body: body(*c.Offer.Offer), key: key})
		if a.status != http.StatusOK {
			t.Fatalf("adopting: %d %s", a.status, a.body)
		}
	}
	look()
	if c.Factors == nil || len(c.Adopted) != 1 || c.Factors.Runs != 6 || c.Factors.Factors[1].Factor <= 1 {
		t.Fatalf("in force: %+v", c.Factors)
	}
	for _, l := range w.heat(h.Id).Lanes {
		factor := c.Factors.Factors[*l.BenchNumber-1].Factor
		if l.AsReadM == nil || l.Factor == nil || *l.Factor != factor || math.Abs(*l.DistanceM-*l.AsReadM/factor) > 1e-6 {
			t.Errorf("bench %d: %+v", *l.BenchNumber, l)
		}
	}
	var s gen.Standings
	w.get("/api/v1/meets/spring/divisions/open/standings", &s)
	if run := s.Standings[0].Runs[0]; run.AsReadM == nil || run.Factor == nil {
		t.Errorf("standing: %+v", s.Standings[0])
	}
	w.do("POST", "/api/v1/meets/spring/factors/withdraw", `{"reason":{"code":"other"}}`)
	look()
	if c.Factors != nil || !c.Adopted[0].Withdrawn {
		t.Errorf("withdrawn: %+v", c.Adopted)
	}
	if l := w.heat(h.Id).Lanes[0]; l.AsReadM != nil {
		t.Errorf("a result is still corrected: %+v", l)
	}
}

// TestNobodyRacesWithAReferenceCar: not by an entry, not by a change of one, and not by
// a car that is marked after it was entered; without the mark it races.
func TestNobodyRacesWithAReferenceCar(t *testing.T) {
	w := newWired(t, "")
	w.twoBenchesChecked("report")
	w.do("PUT", "/api/v1/meets/spring/divisions/open", `{"name":"Open","age_from":0,"age_to":0,
		"class":{"name":"Open class","lap_m":1},"stages":[{"kind":"knockout","race_s":10,"lanes":2}]}`)
	refused := func(what, method, path, body string) {
		t.Helper()
		before := w.events()
		a := w.send(request{role: auth.Organiser, method: method, path: path, body: body})
		if a.status != http.StatusConflict || a.problem.Code != "car-reference" {
			t.Errorf("%s: %d %s", what, a.status, a.body)
		}
		if after := w.events(); len(after) != len(before) {
			t.Errorf("%s leaves %+v", what, after[len(before):])
		}
	}
	enter := func(n int, car string) string {
		return fmt.Sprintf(`{"id":"e%d","division":"open","start_number":%d,"car":%q,
			"person":{"name":"Child","display_name":"Nick","on_screen":true,"in_results":true,"photo":false}}`, n, n, car)
	}
	const entries = "/api/v1/meets/spring/entries"
	refused("an entry", "POST", entries, enter(1, "ref"))
	w.do("POST", entries, enter(1, "kid"))
	w.do("POST", entries, enter(2, "other"))
	refused("a change of an entry", "PUT", entries+"/e1", `{"division":"open","start_number":1,"car":"ref","club":""}`)
	for _, entry := range []string{"e1", "e2"} {
		w.do("POST", entries+"/"+entry+"/check-in", `{"there":true}`)
	}
	w.do("POST", "/api/v1/meets/spring/divisions/open/entries-closed?sure=true", `{"closed":true}`)
	w.do("POST", "/api/v1/meets/spring/divisions/open/draw", "")
	w.do("PUT", "/api/v1/cars/kid", `{"number":7,"reference":true}`)
	const call = "/api/v1/meets/spring/heats/open-1.1.1/call"
	refused("a call", "POST", call, `{"benches":["b1","b2"]}`)
	w.do("PUT", "/api/v1/cars/kid", `{"number":7}`)
	w.do("POST", call, `{"benches":["b1","b2"]}`)
}
