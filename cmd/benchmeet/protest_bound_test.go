package main

import (
	"fmt"
	"net/http"
	"testing"

	"benchmeet/api/auth"
)

// A protest holds up its round until somebody rules on it. Whoever stands at a bench
// lodges as many on the newest heat of the own bench as it has lanes, and only for those
// who raced in it; a counter box lodges none. Officials are not bound so.
func TestVolunteersLodgeFewProtests(t *testing.T) {
	w := newWired(t, "")
	w.smallMeet()
	h := w.raceFirst()
	if len(h.Lanes) != 2 {
		t.Fatalf("the heat has %d lanes", len(h.Lanes))
	}
	raced := map[string]bool{}
	for _, l := range h.Lanes {
		raced[l.Racer.Entry] = true
	}
	var in, out string
	for i := range 4 {
		if e := fmt.Sprintf("e%d", i+1); raced[e] {
			in = e
		} else {
			out = e
		}
	}
	n := 0
	lodge := func(role auth.Role, entry string, status int, code string) {
		t.Helper()
		n++
		body := fmt.Sprintf(`{"id":"p%d","heat":%q,"entry":%q,"reason":{"code":"protest"}}`, n, h.Id, entry)
		before := w.position()
		a := w.send(request{role: role, method: "POST", path: meetPath + "/protests", body: body})
		if a.status != status || a.problem.Code != code {
			t.Errorf("protest %d by a %s for %s: %d %s, want %d %s", n, role, entry, a.status, a.body, status, code)
		}
		if status != http.StatusCreated && w.position() != before {
			t.Errorf("protest %d was refused and changed something", n)
		}
	}
	lodge(auth.Box, in, http.StatusForbidden, "not-allowed")
	lodge(auth.Volunteer, out, http.StatusForbidden, "protest-not-yours")
	lodge(auth.Volunteer, in, http.StatusCreated, "")
	lodge(auth.Volunteer, in, http.StatusCreated, "")
	for range 5 {
		lodge(auth.Volunteer, in, http.StatusConflict, "protest-enough")
	}
	for range 3 {
		lodge(auth.Referee, in, http.StatusCreated, "")
	}
}
