package main

import (
	"encoding/json"
	"net/http"
	"testing"

	"benchmeet/api/auth"
	"benchmeet/api/gen"
)

// Nothing that a bench measured is turned away: a good trace that fits no lane
// is kept and waits for a ruling.
func TestGoodTraceIsKeptWhateverTheDayLooksLike(t *testing.T) {
	databases(t, func(t *testing.T, database string) {
		w := newWired(t, database)
		w.smallMeet()
		h := w.startFirstHeat()
		one, two := h.Lanes[0], h.Lanes[1]

		w.do("POST", meetPath+"/benches/"+*two.Bench+"/service", `{"out":true,"reason":{"code":"bench-fault"}}`)
		w.sendRun(*two.Bench, *two.Armed, "00000000000000aa", 7100)
		w.sendRun(*one.Bench, *one.Armed, "00000000000000aa", 7000)
		w.sendRun(*one.Bench, *one.Armed, "00000000000000bb", 7050) // the box was started anew
		w.sendRun(*one.Bench, "nobody-asked", "00000000000000aa", 7000)

		got := map[string]string{}
		var runs gen.RunList
		w.get(meetPath+"/runs", &runs)
		for _, r := range runs.Runs {
			waiting := ""
			if r.Waiting != nil {
				waiting = string(*r.Waiting)
			}
			got[r.Id] = waiting
		}
		want := map[string]string{
			*one.Armed: "", *two.Armed: "bench-out",
			*one.Armed + ".00000000000000bb": "lane-taken", "nobody-asked": "unknown-run",
		}
		for id, waiting := range want {
			if found, there := got[id]; !there || found != waiting {
				t.Errorf("run %s: there %v, waits %q; want %q", id, there, found, waiting)
			}
		}
		if len(got) != len(want) {
			t.Errorf("%d runs are there, want %d: %v", len(got), len(want), got)
		}

		w.do(
			"POST", meetPath+"/rulings",
			`{"kind":"accept-run","run":"`+*two.Armed+`","heat":"open-1.1.1","entry":"`+two.Racer.Entry+
				`","reason":{"code":"bench-fault","text":"The bench read well after all."}}`,
		)
		if h := w.heat("open-1.1.1"); h.Phase != gen.HeatPhaseProvisional {
			t.Errorf("after the ruling the heat is %s", h.Phase)
		}
		late := w.sendRun(*two.Bench, *two.Armed, "00000000000000cc", 7000)
		var kept gen.ChunkKept
		if err := json.Unmarshal(late.body, &kept); err != nil || !kept.Fresh || !kept.Recorded {
			t.Errorf("a run for a closed heat: %s %v", late.body, err)
		}
	})
}

func TestChunksAreKeptOnceInAnyOrder(t *testing.T) {
	w := newWired(t, "")
	w.smallMeet()
	last := `{"boot":"00000000000000aa","run":"try","number":1,"stamps_us":[13000,19000],"last":{"chunks":2,"stamps":4}}`
	first := `{"boot":"00000000000000aa","run":"try","number":0,"stamps_us":[1000,7000]}`
	other := `{"boot":"00000000000000aa","run":"try","number":0,"stamps_us":[1000,8000]}`
	for _, step := range []struct {
		body            string
		status          int
		fresh, recorded bool
	}{
		{last, 200, true, false},
		{first, 200, true, true},
		{first, 200, false, false},
		{last, 200, false, true},
		{other, http.StatusConflict, false, false},
	} {
		a := w.send(request{role: auth.Box, method: "POST", path: chunkPath, body: step.body})
		var kept gen.ChunkKept
		if a.status == http.StatusOK {
			if err := json.Unmarshal(a.body, &kept); err != nil {
				t.Fatal(err)
			}
		}
		if a.status != step.status || kept.Fresh != step.fresh || kept.Recorded != step.recorded {
			t.Errorf("%s: %d %s; want %d fresh %v recorded %v", step.body, a.status, a.body, step.status, step.fresh, step.recorded)
		}
	}
	var board gen.PracticeBoard
	w.get("/api/v1/practice", &board)
	if len(board.Runs) != 1 || board.Runs[0].Figures.Turns != 3 {
		t.Errorf("the practice board has %+v, want one run of 3 turns", board.Runs)
	}
}
