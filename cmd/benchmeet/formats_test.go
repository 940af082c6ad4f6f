package main

import (
	"encoding/json"
	"fmt"
	"net/http"
	"testing"
	"time"

	"benchmeet/api/auth"
	"benchmeet/api/gen"
)

// TestCompareFormats: before the draw a day is compared in other forms. Each is played on
// the same cars, later than the hall opens, and its stages can be planned as they come; a
// knockout sends somebody home after one race. After the draw there is nothing to choose.
func TestCompareFormats(t *testing.T) {
	w := newWired(t, "")
	w.do("POST", "/api/v1/meets", `{"id":"spring","plan":{"name":"Harbour Hall spring meet","date":"2099-04-17","opens":"09:00","closes":"17:00","time_zone":"UTC"}}`)
	for i := 1; i <= 5; i++ {
		w.do("PUT", fmt.Sprintf("/api/v1/benches/b%d", i), fmt.Sprintf(`{"number":%d,"circumference_mm":94.25}`, i))
		w.do("PUT", fmt.Sprintf("%s/benches/b%d", meetPath, i), "")
	}
	division := func(stages string) string {
		return `{"name":"Open","age_from":0,"age_to":0,"class":{"name":"Open class","lap_m":1},"stages":` + stages + `}`
	}
	w.do("PUT", meetPath+"/divisions/open", division(`[{"kind":"timed-rounds","race_s":60,"lanes":5,"rounds":2,"rule":"best"}]`))
	for i := 1; i <= 12; i++ {
		w.do("POST", meetPath+"/entries", fmt.Sprintf(`{"id":"e%d","division":"open","start_number":%d,
			"person":{"name":"Child %d Quay","display_name":"Nick %d","on_screen":true,"in_results":true,"photo":false}}`, i, i, i, i))
	}
	compare := func(query string) (out gen.FormatComparison) {
		t.Helper()
		a := w.send(request{role: auth.Official, method: http.MethodGet, path: meetPath + "/formats" + query})
		if a.status != http.StatusOK {
			t.Fatalf("GET formats: %d %s", a.status, a.body)
		}
		if err := json.Unmarshal(a.body, &out); err != nil {
			t.Fatal(err)
		}
		return out
	}
	got := compare("")
	opens := time.Date(2099, 4, 17, 9, 0, 0, 0, time.UTC)
	if got.Benches != 5 || got.Entries != 12 || got.Samples < 40 || got.Spread.From != gen.Usual || !got.Begins.Equal(opens) {
		t.Errorf("%d entries on %d benches, played %d times, from %s, cars %+v", got.Entries, got.Benches, got.Samples, got.Begins, got.Spread)
	}
	if len(got.Options) != 10 || got.Options[0].Format != "planned" {
		t.Fatalf("%d forms", len(got.Options))
	}
	for _, o := range got.Options {
		if !o.Finish.P10.After(got.Begins) || o.Finish.P90.Before(o.Finish.P50) || o.LateChance == nil || o.PairsRight < 5 || o.PairsRight > 10 {
			t.Errorf("%s: %+v", o.Format, o)
		}
		if home := o.RunsAtLeast < 2; home != (o.AdvisedAgainst != nil) {
			t.Errorf("%s: everybody races %d times, advised against: %v", o.Format, o.RunsAtLeast, o.AdvisedAgainst)
		}
		if o.RunsAtLeast > 1 && o.LongestWaitMin == 0 {
			t.Errorf("%s: nobody waits", o.Format)
		}
		stages, err := json.Marshal(o.Divisions[0].Stages)
		if err != nil {
			t.Fatal(err)
		}
		w.do("PUT", meetPath+"/divisions/open", division(string(stages)))
	}
	if planned := got.Options[0]; planned.RunsAtLeast != 2 || planned.Runs != 2 {
		t.Errorf("two timed rounds give %+v", planned)
	}
	if knockout := got.Options[4]; knockout.Format != "knockout" || knockout.AdvisedAgainst == nil || *knockout.AdvisedAgainst != gen.OneRace {
		t.Errorf("a knockout is %+v", knockout)
	}
	if wide := compare("?benches=10"); wide.Benches != 10 || !wide.Options[1].Finish.P50.Before(got.Options[1].Finish.P50) {
		t.Errorf("on ten benches three rounds end at %s, on five at %s", wide.Options[1].Finish.P50, got.Options[1].Finish.P50)
	}
	// Twelve can meet in eleven Swiss rounds at most: that is said, and not played.
	w.do("PUT", meetPath+"/divisions/open", division(`[{"kind":"swiss","race_s":60,"lanes":2,"rounds":20}]`))
	if none := compare(""); len(none.Options) != 0 || none.LeftOut == nil || (*none.LeftOut)[0] != "open" {
		t.Errorf("twenty Swiss rounds of twelve give %d forms, left out are %v", len(none.Options), none.LeftOut)
	}
	w.do("PUT", meetPath+"/divisions/open", division(`[{"kind":"timed-rounds","race_s":60,"lanes":5,"rounds":2,"rule":"sum"}]`))
	if sum := compare(""); len(sum.Options) != 10 {
		t.Errorf("with the sum of runs there are %d forms", len(sum.Options))
	}
	for i := 1; i <= 12; i++ {
		w.do("POST", fmt.Sprintf("%s/entries/e%d/check-in", meetPath, i), `{"there":true}`)
	}
	w.do("POST", meetPath+"/divisions/open/entries-closed", `{"closed":true}`)
	w.do("POST", meetPath+"/divisions/open/draw", "")
	if after := compare(""); len(after.Options) != 0 || after.Samples != 0 {
		t.Errorf("after the draw there are %d forms to choose", len(after.Options))
	}
}
