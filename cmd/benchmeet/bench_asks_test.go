package main

import (
	"fmt"
	"testing"

	"benchmeet/api/auth"
	"benchmeet/api/gen"
)

// A volunteer takes a confirmed car back before the start, and asks for an official until
// one has come; at another bench neither.
func TestABenchTakesBackAndAsks(t *testing.T) {
	databases(t, func(t *testing.T, database string) {
		w := newWired(t, database)
		w.smallMeet()
		heat := meetPath + "/heats/open-1.1.1"
		order := func(path, body string, want int) {
			t.Helper()
			a := w.send(request{role: auth.Volunteer, method: "POST", path: path, body: body})
			if a.status != want {
				t.Errorf("%s %s: %d %s, want %d", path, body, a.status, a.body, want)
			}
		}
		state := func() string { return string(w.heat("open-1.1.1").Lanes[0].State) }
		car := fmt.Sprintf(`{"bench":"b1","start_number":%d}`, w.heat("open-1.1.1").Lanes[0].Racer.StartNumber)

		order(heat+"/ready", car, 200)
		order(heat+"/not-ready", `{"bench":"b1"}`, 200)
		if got := state(); got != "called" {
			t.Errorf("taken back, the lane is %s", got)
		}
		order(heat+"/not-ready", `{"bench":"b3"}`, 403)

		order(meetPath+"/benches/b2/official", `{"wanted":true}`, 200)
		order(meetPath+"/benches/b3/official", `{"wanted":true}`, 403)
		asked := func() (onMeet []string, decisions int) {
			var m gen.Meet
			w.get(meetPath, &m)
			for _, b := range m.Benches {
				if b.OfficialWanted != nil {
					onMeet = append(onMeet, b.Id)
				}
			}
			var list gen.DecisionList
			w.get(meetPath+"/decisions", &list)
			for _, d := range list.Decisions {
				if d.Kind == "official-wanted" && *d.Bench == "b2" && d.Since != nil && d.By != nil {
					decisions++
				}
			}
			return onMeet, decisions
		}
		if benches, decisions := asked(); fmt.Sprint(benches) != "[b2]" || decisions != 1 {
			t.Errorf("asked for, an official is wanted at %v, with %d lines to decide", benches, decisions)
		}
		w.do("POST", meetPath+"/benches/b2/official", `{"wanted":false}`)
		if benches, decisions := asked(); benches != nil || decisions != 0 {
			t.Errorf("after one came, an official is wanted at %v, with %d lines to decide", benches, decisions)
		}

		h := w.startFirstHeat()
		order(heat+"/ready", car, 200) // late, and so already
		a := w.send(request{role: auth.Volunteer, method: "POST", path: heat + "/not-ready", body: `{"bench":"b1"}`})
		if a.status != 409 || a.problem.Code != "ready-raced" || h.Phase != gen.HeatPhaseRacing {
			t.Errorf("in a race that is %s: %d %s", h.Phase, a.status, a.body)
		}
	})
}

// A refusal names the field that it is about, by the rules and by the contract alike.
func TestARefusalNamesItsField(t *testing.T) {
	w := newWired(t, "")
	w.smallMeet()
	entry := func(number, born string) string {
		return `{"id":"e9","division":"open","start_number":` + number + `,"person":{"name":"Kit Quay","display_name":"Kit",` +
			`"birth_date":"` + born + `","on_screen":true,"in_results":true,"photo":false}}`
	}
	for _, tt := range []struct{ name, path, body, want string }{
		{"a number that is taken", "/entries", entry("1", "2019-05-02"), "start_number"},
		{"a number that the contract does not know", "/entries", entry("0", "2019-05-02"), "start_number"},
		{"a birth date after the meet", "/entries", entry("9", "2029-05-02"), "birth_date"},
		{"a state of the day", "/heats/open-1.1.1/start", "", ""},
	} {
		a := w.send(request{role: auth.Organiser, method: "POST", path: meetPath + tt.path, body: tt.body})
		field := ""
		if a.problem.Field != nil {
			field = *a.problem.Field
		}
		if a.status < 400 || field != tt.want {
			t.Errorf("%s: %d %s, about the field %q, want %q", tt.name, a.status, a.body, field, tt.want)
		}
	}
}
