package main

import (
	"encoding/json"
	"fmt"
	"net/http"
	"slices"
	"testing"
	"time"

	"benchmeet/api/auth"
	"benchmeet/api/gen"
)

// dayPlan is the day plan as a role reads it.
func (w *wired) dayPlan(role auth.Role) gen.DayPlan {
	w.t.Helper()
	a := w.send(request{role: role, method: http.MethodGet, path: meetPath + "/day-plan"})
	if a.status != http.StatusOK {
		w.t.Fatalf("GET day-plan as %s: %d %s", role, a.status, a.body)
	}
	var out gen.DayPlan
	if err := json.Unmarshal(a.body, &out); err != nil {
		w.t.Fatal(err)
	}
	return out
}

// TestDayPlan: what is left of a small day, by everybody and by officials; a time that was
// told is kept; the order of heats is the desk's.
func TestDayPlan(t *testing.T) {
	databases(t, func(t *testing.T, database string) {
		w := newWired(t, database)
		w.smallMeet()
		w.do("PUT", meetPath+"/plan", `{"name":"Harbour Hall spring meet","date":"2027-04-17","closes":"17:00","time_zone":"UTC","packing_min":30,"prizes_min":15}`)

		open := w.dayPlan(auth.Public)
		if len(open.Heats) != 2 || open.Heats[0].Phase != gen.PlanHeatPhaseCalled ||
			open.Heats[1].Heat != "open-1.1.2" || open.Heats[1].Ahead != 0 {
			t.Errorf("heats are %+v", open.Heats)
		}
		if open.Forecast != nil || open.Pace != nil {
			t.Error("the public sees how sure the plan is")
		}
		if got := open.LastRaceBy.Format(time.RFC3339); got != "2027-04-17T16:15:00Z" {
			t.Errorf("the last race is to be over by %s", got)
		}
		if len(open.Rounds) != 2 || !open.Rounds[0].Drawn || open.Rounds[1].Drawn || open.Rounds[1].Heats != 1 {
			t.Errorf("rounds are %+v", open.Rounds)
		}
		for _, at := range []time.Time{*open.Finish, *open.Rounds[1].Likely, *open.Heats[1].Likely} {
			if at.Unix()%300 != 0 {
				t.Errorf("%s is no whole five minutes", at)
			}
		}
		if cars := open.Heats[1].Cars; len(cars) != 2 || cars[0].DisplayName == nil {
			t.Errorf("cars are %+v", cars)
		}

		exact := w.dayPlan(auth.Referee)
		if exact.Pace == nil || exact.Pace.CallS != 120 || exact.Pace.FromHeats != 0 {
			t.Errorf("the pace is %+v", exact.Pace)
		}
		// The final: ten seconds of racing after two minutes, twice, with a change, protest time and a draw between.
		if after := exact.Finish.Sub(exact.At); after < 12*time.Minute || after > 14*time.Minute {
			t.Errorf("the day is over in %s", after)
		}

		sure := exact.Forecast
		if sure == nil || !sure.P10.Before(sure.P90) || sure.P10.After(*exact.Finish) || sure.P90.Before(*exact.Finish) {
			t.Errorf("the day is over at %s, in ten to ninety of a hundred between %+v", exact.Finish, sure)
		}
		if chance := sure.LateChance; chance == nil || *chance != float64(map[bool]int{true: 1}[exact.Finish.After(*exact.LastRaceBy)]) {
			t.Errorf("the chance to be late is %v", chance)
		}
		if r := exact.Rounds[1]; r.P10 == nil || r.P10.After(*r.Likely) || r.P90.Before(*r.Likely) {
			t.Errorf("the final is %+v", r)
		}

		// The board: the final, which is not drawn, and the heat that waits for the benches of the one before.
		if open.ToCome != nil || open.Heats[1].Until != nil || open.Heats[1].WaitsFor != nil {
			t.Error("the public reads what is for the day board")
		}
		if to := *exact.ToCome; len(to) != 1 || len(to[0].Benches) != 2 || to[0].Until.Sub(to[0].Likely) < 10*time.Second ||
			to[0].Until != *exact.Finish {
			t.Errorf("to come are %+v", to)
		}
		if h := exact.Heats[1]; h.Until == nil || !h.Until.After(*h.Likely) || len(*h.LikelyOn) != 2 ||
			h.WaitsFor.Code != gen.MoveWhyCodeBenches || *h.WaitsFor.Heat != exact.Heats[0].Heat {
			t.Errorf("the heat that waits is %+v", h)
		}
		w.do("POST", meetPath+"/day-plan/tell", `{"reason":"power"}`)
		told := w.dayPlan(auth.Public)
		final := told.Rounds[1]
		if told.Told == nil || told.Told.By != nil || final.NotBefore == nil || final.NotBefore.After(*exact.Rounds[1].Likely) {
			t.Errorf("told is %+v, of the final %+v", told.Told, final)
		}
		if by := w.dayPlan(auth.Official).Told.By; by == nil {
			t.Error("officials do not see who told the times")
		}
		head := w.position()
		w.do("POST", meetPath+"/day-plan/tell", `{"reason":"power"}`)
		if w.position() != head {
			t.Error("the same times are told twice")
		}

		w.do("POST", meetPath+"/heats/open-1.1.2/order", `{"move":"hold","until":"2099-01-01T00:00:00Z"}`)
		if held := w.dayPlan(auth.Public).Heats[1].HeldUntil; held == nil || held.Year() != 2099 {
			t.Errorf("it is held until %v", held)
		}
		// What was told of a heat that is late is later; it is asked back.
		w.do("POST", meetPath+"/day-plan/tell", `{}`)
		w.do("POST", meetPath+"/heats/open-1.1.1/call-off", `{"reason":{"code":"power"}}`)
		early := w.send(request{role: auth.Referee, method: "POST", path: meetPath + "/heats/open-1.1.2/call", body: `{}`})
		if early.status != http.StatusConflict || early.problem.Code != "told-later" {
			t.Errorf("an early call gives %d %s", early.status, early.body)
		}
		again := w.send(request{role: auth.Referee, method: "POST", path: meetPath + "/heats/open-1.1.2/call?sure=true", body: `{}`})
		if again.status != http.StatusOK {
			t.Errorf("a sure call gives %d %s", again.status, again.body)
		}
		for path, body := range map[string]string{
			"/heats/open-1.1.1/order": `{"move":"hold"}`,
			"/day-plan/tell":          `{"reason":"no reason at all"}`,
		} {
			a := w.send(request{role: auth.Referee, method: "POST", path: meetPath + path, body: body})
			if a.status != http.StatusUnprocessableEntity {
				t.Errorf("%s %s gives %d %s", path, body, a.status, a.body)
			}
		}
	})
}

// TestLookDayPlan: with a bench less every heat of two is called twice; nothing is written by
// looking.
func TestLookDayPlan(t *testing.T) {
	w := newWired(t, "")
	w.smallMeet()
	head := w.position()
	look := func(body string) (out gen.DayPlan) {
		a := w.send(request{role: auth.Referee, method: "POST", path: meetPath + "/day-plan/look", key: "none", body: body})
		if a.status != http.StatusOK {
			t.Fatalf("%s gives %d %s", body, a.status, a.body)
		}
		if err := json.Unmarshal(a.body, &out); err != nil {
			t.Fatal(err)
		}
		return out
	}
	now := w.dayPlan(auth.Referee)
	if as := look(`{}`); as.Moves == nil || len(*as.Moves) != 0 || as.Finish.Sub(*now.Finish).Abs() > time.Minute {
		t.Errorf("as it is the day ends at %s with moves %+v, and not at %s", as.Finish, as.Moves, now.Finish)
	}
	paused := look(`{"pause_min":30}`)
	if later := paused.Finish.Sub(*now.Finish); later < 25*time.Minute || later > 31*time.Minute {
		t.Errorf("a pause of half an hour makes the day %s longer", later)
	}
	if m := *paused.Moves; len(m) != 1 || m[0].Heat != "open-1.1.2" || m[0].To.Sub(m[0].From) < 5*time.Minute ||
		m[0].Why == nil || m[0].Why.Code != gen.MoveWhyCodePause {
		t.Errorf("it moves %+v", m)
	}
	if none := look(`{"improve":true}`); none.Order != nil || none.SavesS != nil || len(*none.Moves) != 0 {
		t.Errorf("of one heat that waits there is a better order %v", none.Order)
	}
	if out := look(`{"benches_out":["b2"]}`); !out.Finish.After(*now.Finish) {
		t.Errorf("with a bench less the day ends at %s, before %s", out.Finish, now.Finish)
	}
	if a := w.send(request{role: auth.Referee, method: "POST", path: meetPath + "/day-plan/look", key: "none", body: `{"order":["open-9.9.9"]}`}); a.problem.Code != "no-heat" {
		t.Errorf("a heat that is not there gives %d %s", a.status, a.body)
	}
	if w.position() != head {
		t.Error("looking writes events")
	}

	// A race of ten minutes before it: the heat waits for the benches that the other has.
	w.do("PUT", meetPath+"/divisions/long", `{"name":"Long","age_from":0,"age_to":0,"class":{"name":"Long class","lap_m":1},"stages":[{"kind":"knockout","race_s":600,"lanes":2}]}`)
	for i := 5; i <= 6; i++ {
		w.do("POST", meetPath+"/entries", fmt.Sprintf(`{"id":"e%d","division":"long","start_number":%d,
			"person":{"name":"Child %d Quay","display_name":"Nick %d","on_screen":true,"in_results":true,"photo":false}}`, i, i, i, i))
		w.do("POST", fmt.Sprintf("%s/entries/e%d/check-in", meetPath, i), `{"there":true}`)
	}
	w.do("POST", meetPath+"/divisions/long/entries-closed", `{"closed":true}`)
	w.do("POST", meetPath+"/divisions/long/draw", "")
	first := look(`{"order":["long-1.1.1"]}`)
	if m := *first.Moves; len(m) != 1 || m[0].Heat != "open-1.1.2" || m[0].Why == nil || m[0].Why.Code != gen.MoveWhyCodeBenches ||
		m[0].Why.Heat == nil || *m[0].Why.Heat != "long-1.1.1" || m[0].Why.Benches == nil || *m[0].Why.Benches != 2 {
		t.Errorf("behind the long race it moves %+v", m)
	}
	// The order is taken up, and the look says what would end the day earlier: the final waits for the short race.
	w.do("POST", meetPath+"/day-plan/order", `{"order":["long-1.1.1"]}`)
	slow := w.dayPlan(auth.Referee)
	better := look(`{"improve":true}`)
	if slow.Heats[1].Heat != "long-1.1.1" || better.Order == nil || !slices.Equal(*better.Order, []string{"open-1.1.2", "long-1.1.1"}) ||
		better.SavesS == nil || *better.SavesS < 60 || slow.Finish.Sub(*better.Finish) < time.Minute {
		t.Errorf("the day ends at %s with %s first, better at %s in the order %v", slow.Finish, slow.Heats[1].Heat, better.Finish, better.Order)
	}
	if m := *better.Moves; len(m) != 1 || m[0].Heat != "open-1.1.2" || !m[0].To.Before(m[0].From) || m[0].Why.Code != gen.MoveWhyCodeBenches {
		t.Errorf("it moves %+v", m)
	}
	if a := w.send(request{role: auth.Referee, method: "POST", path: meetPath + "/day-plan/order", body: `{"order":["open-1.1.2","open-1.1.1"]}`}); a.problem.Code != "heat-called" {
		t.Errorf("an order of a called heat gives %d %s", a.status, a.body)
	}
}

// TestCuts: what can be left out is for officials; what it says comes true once the division is
// given the programme that stands in it.
func TestCuts(t *testing.T) {
	w := newWired(t, "")
	w.smallMeet()
	class := `"class":{"name":"Long class","lap_m":1}`
	w.do("PUT", meetPath+"/divisions/long", `{"name":"Long","age_from":0,"age_to":0,`+class+`,"stages":[{"kind":"timed-rounds","race_s":300,"lanes":2,"rounds":3,"rule":"best"}]}`)
	for i := 5; i <= 8; i++ {
		w.do("POST", meetPath+"/entries", fmt.Sprintf(`{"id":"e%d","division":"long","start_number":%d,
			"person":{"name":"Child %d Quay","display_name":"Nick %d","on_screen":true,"in_results":true,"photo":false}}`, i, i, i, i))
	}
	head := w.position()
	var list gen.CutList
	w.get(meetPath+"/day-plan/cuts", &list)
	if len(list.Cuts) != 1 {
		t.Fatalf("the cut list is %+v", list)
	}
	cut := list.Cuts[0]
	// Two heats of five minutes less.
	if cut.Code != gen.FewerRounds || cut.Division != "long" || cut.SavesS < 600 || cut.SavesS > 1200 || !cut.Now ||
		*cut.Entries != 4 || *cut.RunsBefore != 3 || *cut.RunsAfter != 2 || cut.FairUntil == nil || w.position() != head {
		t.Errorf("it is %+v", cut)
	}
	stages, err := json.Marshal(cut.Stages)
	if err != nil {
		t.Fatal(err)
	}
	w.do("PUT", meetPath+"/divisions/long", `{"name":"Long","age_from":0,"age_to":0,`+class+`,"stages":`+string(stages)+`}`)
	if plan := w.dayPlan(auth.Referee); plan.Finish.Sub(cut.Finish).Abs() > time.Minute {
		t.Errorf("the day ends at %s and not at %s", plan.Finish, cut.Finish)
	}
}

// TestOrderOfTheBoard: the call board follows the order that the desk gives.
func TestOrderOfTheBoard(t *testing.T) {
	w := newWired(t, "")
	w.smallMeet()
	w.do("POST", meetPath+"/heats/open-1.1.1/call-off", `{"reason":{"code":"power"}}`)
	w.do("POST", meetPath+"/heats/open-1.1.2/order", `{"move":"first"}`)
	var board gen.Board
	w.get(meetPath+"/board", &board)
	ids := []string{}
	for _, h := range board.Next {
		ids = append(ids, h.Id)
	}
	if !slices.Equal(ids, []string{"open-1.1.2", "open-1.1.1"}) {
		t.Errorf("next are %v", ids)
	}
	if plan := w.dayPlan(auth.Public); plan.Heats[0].Heat != "open-1.1.2" || plan.Heats[1].Ahead != 1 {
		t.Errorf("the plan has %+v", plan.Heats)
	}
}
