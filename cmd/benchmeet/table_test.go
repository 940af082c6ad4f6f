package main

import (
	"net/http"
	"strings"
	"testing"

	"benchmeet/api/auth"
	"benchmeet/api/gen"
)

// tableMeet is smallMeet before its draw with a class that asks for checks and
// gates that hold.
func (w *wired) tableMeet() {
	w.t.Helper()
	w.do("POST", "/api/v1/meets", `{"id":"spring","plan":{"name":"Harbour Hall spring meet","date":"2027-04-17"},
		"rules":{"protest_s":0,"call_s":600,"reruns_per_entry":2,"tie":"shared","did_not_finish":"keep-distance","benches":"report","late":"no",
		"hand_counts":"ranks","battery_gate":"hold","inspection_gate":"hold"}}`)
	for _, b := range []string{"1", "2"} {
		w.do("PUT", "/api/v1/benches/b"+b, `{"number":`+b+`,"circumference_mm":94.25}`)
		w.do("PUT", "/api/v1/meets/spring/benches/b"+b, "")
	}
	w.do("PUT", "/api/v1/meets/spring/divisions/open", `{"name":"Open","age_from":0,"age_to":0,
		"class":{"name":"Open class","lap_m":1,"cells":2,
			"battery":{"aside_after":2,"windows":[{"chemistry":"alkaline","cells":2,"open_v":{"min":3,"max":3.3},"valid_s":7200}]},
			"checklist":[{"id":"mass","name":"Weight","unit":"g","max":180}]},
		"stages":[{"kind":"timed-rounds","race_s":10,"lanes":2,"rounds":1,"rule":"best"}]}`)
	for _, n := range []string{"1", "2"} {
		w.do("POST", "/api/v1/meets/spring/entries", `{"id":"e`+n+`","division":"open","start_number":`+n+`,
			"person":{"name":"Child `+n+` Quay","display_name":"Nick `+n+`","on_screen":true,"in_results":true,"photo":false}}`)
		w.do("POST", "/api/v1/meets/spring/entries/e"+n+"/check-in", `{"there":true}`)
	}
	w.do("POST", "/api/v1/meets/spring/divisions/open/entries-closed", `{"closed":true}`)
	w.do("POST", "/api/v1/meets/spring/divisions/open/draw", "")
	w.do("POST", "/api/v1/meets/spring/heats/open-1.1.1/call", `{}`)
}

// A day at the inspector's table over the API: a held car, its battery and its
// checklist, a ruling for the other, packs that are lent.
func TestInspectorsTable(t *testing.T) {
	w := newWired(t, "")
	w.tableMeet()
	lane := map[int]gen.Lane{}
	for _, l := range w.heat("open-1.1.1").Lanes {
		lane[l.Racer.StartNumber] = l
	}
	ready := func(number string, n int) answer {
		return w.send(
			request{
				role: auth.Volunteer, method: "POST", path: meetPath + "/heats/open-1.1.1/ready",
				body: `{"bench":"` + *lane[n].Bench + `","start_number":` + number + `}`,
			},
		)
	}
	held := ready("1", 1)
	if held.status != http.StatusConflict || !strings.Contains(string(held.body), `"car-held"`) ||
		!strings.Contains(string(held.body), "take it to the battery table first") {
		t.Fatalf("a car without checks: %d %s", held.status, held.body)
	}

	check := `{"entry":"e1","chemistry":"alkaline","cells":2,"open_v":`
	w.do("POST", meetPath+"/packs/own/check", check+`2.31}`)
	var table gen.InspectorTable
	w.get(meetPath+"/inspection", &table)
	if says := table.Entries[0].Battery; len(says) != 1 ||
		says[0].Says != "This pack holds too little: 2.31 V, it needs 3.00 V. Take another one." {
		t.Errorf("an empty pack: %+v", says)
	}
	w.do("POST", meetPath+"/packs/better/check", check+`3.185,"loads":[{"ma":5,"v":3.17},{"ma":505,"v":2.95}],"instrument":"meter 1"}`)
	if held = ready("1", 1); !strings.Contains(string(held.body), "was not inspected yet") {
		t.Errorf("a car that was not inspected: %d %s", held.status, held.body)
	}
	w.do("POST", meetPath+"/entries/e1/inspection", `{"values":[{"item":"mass","value":180.5}],"fix_s":600}`)
	if held = ready("1", 1); !strings.Contains(string(held.body), "Weight: 180.5 g is too much, at most 180 g is allowed.") {
		t.Errorf("a car that is too heavy: %d %s", held.status, held.body)
	}
	w.do("POST", meetPath+"/entries/e1/inspection", `{"values":[{"item":"mass","value":179.5}],"mark":"green"}`)
	if ok := ready("1", 1); ok.status != http.StatusOK {
		t.Fatalf("with all checks: %d %s", ok.status, ok.body)
	}
	w.do("POST", meetPath+"/rulings", `{"kind":"let-race","heat":"open-1.1.1","entry":"e2","reason":{"code":"time"}}`)
	if ok := ready("2", 2); ok.status != http.StatusOK {
		t.Fatalf("let race: %d %s", ok.status, ok.body)
	}
	w.do("POST", meetPath+"/heats/open-1.1.1/start", "")

	w.do("POST", meetPath+"/packs", `{"packs":["C1","C2"]}`)
	w.do("POST", meetPath+"/packs/C1/check", `{"division":"open","chemistry":"alkaline","cells":2,"open_v":3.2}`)
	w.do("POST", meetPath+"/packs/C1/issue", `{"entry":"e2"}`)
	w.do("POST", meetPath+"/packs/C1/return", `{"hurt":true}`)
	w.do("POST", meetPath+"/packs/own/check", check+`2.2}`)
	w.do("POST", meetPath+"/packs/own/put-back", `{"reason":{"code":"volunteer-error"}}`)
	if hurt := w.send(
		request{role: auth.Official, method: "POST", path: meetPath + "/packs/C1/put-back", body: `{"reason":{"code":"other"}}`},
	); hurt.problem.Code != "pack-hurt" {
		t.Errorf("a hurt pack comes back: %d %s", hurt.status, hurt.body)
	}
	w.do("POST", meetPath+"/entries/e1/inspection/lapse", `{"reason":{"code":"car-changed"}}`)

	table = gen.InspectorTable{}
	w.get(meetPath+"/inspection", &table)
	packs := map[string]gen.Pack{}
	for _, p := range table.Packs {
		packs[p.Id] = p
	}
	if p := packs["better"]; len(p.Runs) != 1 || *p.Checks[0].ResistanceMohm != 440 || *p.Checks[0].EmfV != 3.172 {
		t.Errorf("the pack that raced: %+v", p)
	}
	if p := packs["C1"]; !p.Hurt || !p.Aside || p.Racer != nil {
		t.Errorf("the pack that came back hot: %+v", p)
	}
	if p := packs["own"]; p.Aside || len(p.Checks) != 2 {
		t.Errorf("the pack that was put back: %+v", p)
	}
	if e := table.Entries[0]; e.Inspected != "lapsed" || len(e.Tries) != 2 {
		t.Errorf("the car that was changed: %+v", e)
	}
}

// Bad orders at the table get a sentence and change nothing.
func TestTableRefusesWithASentence(t *testing.T) {
	w := newWired(t, "")
	w.tableMeet()
	tests := []struct {
		name   string
		role   auth.Role
		path   string
		body   string
		status int
		says   string
	}{
		{
			"a volunteer who measures", auth.Volunteer, "/packs/own/check", `{"entry":"e1","chemistry":"alkaline","cells":2,"open_v":3}`, 403,
			"organiser",
		},
		{"the public", auth.Public, "/packs", `{"packs":["C1"]}`, 401, "Sign in"},
		{"a kind that is none", auth.Official, "/packs/own/check", `{"entry":"e1","chemistry":"steam","cells":2,"open_v":3}`, 400, "chemistry"},
		{
			"cells beyond the contract", auth.Official, "/packs/own/check", `{"entry":"e1","chemistry":"alkaline","cells":21,"open_v":3}`, 400,
			"cells",
		},
		{
			"one load", auth.Official, "/packs/own/check", `{"entry":"e1","chemistry":"alkaline","cells":2,"open_v":3,"loads":[{"ma":5,"v":3}]}`,
			400, "loads",
		},
		{
			"loads too near each other", auth.Official, "/packs/own/check",
			`{"entry":"e1","chemistry":"alkaline","cells":2,"open_v":3,"loads":[{"ma":5,"v":3},{"ma":50,"v":2.9}]}`, 422, "50 mA apart",
		},
		{"a pack that nobody has", auth.Official, "/packs/C9/issue", `{"entry":"e1"}`, 404, "C9"},
		{"nobody to lend to", auth.Official, "/packs/C9/return", `{}`, 404, "C9"},
		{
			"an item that is not on the list", auth.Official, "/entries/e1/inspection", `{"values":[{"item":"spoiler","yes":true}]}`, 422, "does not fit the checklist",
		},
		{"a car half looked at", auth.Official, "/entries/e1/inspection", `{"values":[]}`, 422, "Weight"},
		{"a pass that is not there", auth.Official, "/entries/e1/inspection/lapse", `{"reason":{"code":"car-changed"}}`, 409, "no pass"},
		{
			"a heat that is called", auth.Official, "/packs/deal", `{"heats":["open-1.1.1"],"race_ma":1000,"spread_mv":40,"spread_mohm":60}`, 409,
			"not called",
		},
		{"a ruling without its heat", auth.Official, "/rulings", `{"kind":"let-race","entry":"e1","reason":{"code":"time"}}`, 422, "heat"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			before := w.position()
			a := w.send(request{role: tt.role, method: "POST", path: meetPath + tt.path, body: tt.body})
			if a.status != tt.status || !strings.Contains(a.problem.Detail, tt.says) {
				t.Errorf("got %d %s, want %d with %q", a.status, a.body, tt.status, tt.says)
			}
			if w.position() != before {
				t.Error("the log is longer")
			}
		})
	}
}
