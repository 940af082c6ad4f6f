package main

import (
	"fmt"
	"net/http"
	"testing"

	"benchmeet/api/auth"
	"benchmeet/api/gen"
)

// TestBesideEachOther: two cars in turns on one bench, and one of them in turns on two
// benches, are compared through the server; what cannot be told is said or refused.
func TestBesideEachOther(t *testing.T) {
	w := newWired(t, "")
	for n := 1; n <= 2; n++ {
		w.do("PUT", fmt.Sprintf("/api/v1/benches/b%d", n), fmt.Sprintf(`{"number":%d,"circumference_mm":94.248}`, n))
	}
	made := 0
	run := func(bench string, car int, periodUS int64) {
		w.do("POST", "/api/v1/benches/"+bench+"/practice", fmt.Sprintf(`{"car_number":%d,"race_s":10}`, car))
		var order gen.BenchOrder
		w.get("/api/v1/benches/"+bench+"/order", &order)
		made++
		w.practise(bench, *order.Run, fmt.Sprintf("%016x", made), periodUS)
	}
	beside := func(query string) (out gen.CarCompared) {
		t.Helper()
		w.get("/api/v1/practice/cars/7/beside?"+query, &out)
		return out
	}
	for k := range int64(4) { // car 8 is about 2 % quicker
		run("b1", 7, 7000+3*k)
		run("b1", 8, 6860+3*((k+1)%4))
	}
	c := beside("car=8")
	if len(c.Unfair) != 0 || len(c.Runs) != 8 || *c.Runs[1].State != 2 || c.BenchNumber == nil || *c.BenchNumber != 1 {
		t.Fatalf("%+v", c)
	}
	if far := c.Effects[0]; far.Verdict != gen.ComparedEffectVerdictQuicker || far.Low > 0.0204 || far.High < 0.0204 {
		t.Errorf("7,000 µs a turn beside 6,860: %+v", far)
	}
	if c := beside("bench=b1&other_bench=b2"); len(c.Effects) != 0 || len(c.Unfair) != 0 {
		t.Errorf("on one bench only: %+v", c)
	}
	for range 4 {
		run("b2", 7, 7000)
	}
	if c := beside("bench=b1&other_bench=b2"); len(c.Unfair) != 1 || c.Unfair[0] != gen.InBlocks {
		t.Errorf("one bench after the other: %+v", c.Unfair)
	}
	for _, query := range []string{"car=7", "car=99", "", "bench=b1&other_bench=b1", "bench=b1"} {
		a := w.send(request{role: auth.Public, method: http.MethodGet, path: "/api/v1/practice/cars/7/beside?" + query})
		if a.status != http.StatusUnprocessableEntity || a.problem.Code != "compare-cars" && a.problem.Code != "compare-benches" {
			t.Errorf("%q: %d %s", query, a.status, a.body)
		}
	}
}
