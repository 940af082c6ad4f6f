package main

import (
	"math"
	"net/http"
	"slices"
	"testing"

	"benchmeet/api/auth"
	"benchmeet/api/gen"
	"benchmeet/domain/simulate"
)

// fading is a car that comes up with a time constant of half a second and loses
// 1 % of its speed in each second.
func fading(key uint64, rpm float64) []int64 {
	return simulate.Run(simulate.Params{
		Key: key, StartUS: 1_000_000, DurationS: 10, CircumferenceMM: 94.25,
		RPM: rpm, TauS: 0.5, SagPerS: 0.01, JitterUS: 5,
	}).Stamps
}

func TestCurveOfARun(t *testing.T) {
	w := newWired(t, "")
	w.smallMeet()
	h := w.startFirstHeat()
	one, two := h.Lanes[0], h.Lanes[1]
	stamps := fading(1, 6000)
	missed := slices.Index(stamps, stamps[len(stamps)/2])
	lostAt := float64(stamps[missed]-1_000_000) / 1e6
	w.sendStamps(*one.Bench, *one.Armed, "00000000000000aa", slices.Delete(slices.Clone(stamps), missed, missed+1))
	w.sendStamps(*two.Bench, *two.Armed, "00000000000000aa", fading(2, 6600))
	w.sendStamps(*one.Bench, "nobody-asked", "00000000000000aa", fading(3, 6000))

	var c gen.RunCurve
	w.get(meetPath+"/runs/"+*one.Armed+"/curve", &c)
	near := func(what string, got, want, within float64) {
		t.Helper()
		if math.Abs(got-want) > within {
			t.Errorf("%s is %g, want %g within %g", what, got, want, within)
		}
	}
	if c.FullSpeed == nil || c.Slowing == nil || c.Conditions == nil || c.Heat == nil || c.Start == nil || c.SettingsChanged != nil {
		t.Fatalf("a part is missing: %+v", c)
	}
	near("the end", *c.ToS, 10, 1e-9)
	near("the number of samples", float64(len(c.Samples)), 190, 20)
	near("full speed", c.FullSpeed.SpeedMps, 6000*0.09425/60, 0.4)
	near("the time to 95 %", c.FullSpeed.AtS, 0.5*math.Log(20), 0.25)
	// The speed goes by 1 - 0.01 t: from 1.5 times the time to full speed to the
	// end, between the middles of the outer thirds.
	from := 1.5 * c.FullSpeed.AtS
	begin, end := from+(10-from)/6, 10-(10-from)/6
	near("what is lost", c.Slowing.Lost, 0.01*(end-begin)/(1-0.01*begin), 0.003)
	if len(c.Corrections) != 1 || c.Corrections[0].Kind != gen.CorrectionKindBridged {
		t.Fatalf("corrections: %+v", c.Corrections)
	}
	near("the filled pass", c.Corrections[0].AtS, lostAt, 0.001)
	near("the circumference", c.Conditions.CircumferenceMm, 94.25, 1e-9)
	if string(c.Start.How) != "predicted" || c.Run.Racer == nil || *c.Run.Racer.DisplayName == "" {
		t.Errorf("start %+v of %+v", c.Start, c.Run.Racer)
	}

	var d gen.RunDifference
	w.get(meetPath+"/runs/"+*two.Armed+"/difference?from="+*one.Armed, &d)
	if d.SameBench || d.SameCar || d.DistanceM.TooClose || d.MeanSpeedMps.TooClose || d.Slowing == nil || !d.Slowing.TooClose {
		t.Errorf("a car that is a tenth quicker and fades alike: %+v", d)
	}
	near("the difference in distance", d.DistanceM.Value, d.Run.Figures.DistanceM-d.From.Figures.DistanceM, 1e-5)
	w.get(meetPath+"/runs/nobody-asked/difference?from="+*one.Armed, &d)
	if !d.SameBench || d.SameCar || !d.DistanceM.TooClose {
		t.Errorf("the same speed on the same bench again: %+v", d)
	}

	tests := []struct {
		name   string
		role   auth.Role
		path   string
		status int
		code   string
	}{
		{"a family sees what counts", auth.Public, "/runs/" + *one.Armed + "/curve", http.StatusOK, ""},
		{"but no run that waits", auth.Public, "/runs/nobody-asked/curve", http.StatusForbidden, "run-not-shown"},
		{
			"nor a comparison with one", auth.Public, "/runs/" + *one.Armed + "/difference?from=nobody-asked", http.StatusForbidden, "run-not-shown",
		},
		{"officials do", auth.Official, "/runs/nobody-asked/curve", http.StatusOK, ""},
		{"no such run", auth.Official, "/runs/nothing/curve", http.StatusNotFound, "no-run"},
		{"no such run to compare with", auth.Official, "/runs/" + *one.Armed + "/difference?from=nothing", http.StatusNotFound, "no-run"},
		{"nothing to compare with", auth.Official, "/runs/" + *one.Armed + "/difference", http.StatusBadRequest, "bad-request"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			a := w.send(request{role: tt.role, method: "GET", path: meetPath + tt.path})
			if a.status != tt.status || a.problem.Code != tt.code {
				t.Errorf("%d %s; want %d %s", a.status, a.body, tt.status, tt.code)
			}
		})
	}

	t.Run("a hand count has figures and no curve", func(t *testing.T) {
		other := w.heat("open-1.1.2")
		w.do("POST", meetPath+"/heats/"+other.Id+"/call", `{"benches":["b1","b2"]}`)
		other = w.heat(other.Id)
		for _, l := range other.Lanes {
			w.do("POST", meetPath+"/heats/"+other.Id+"/ready", `{"bench":"`+*l.Bench+`","start_number":`+string(rune('0'+l.Racer.StartNumber))+`}`)
		}
		w.do("POST", meetPath+"/heats/"+other.Id+"/start", "")
		w.do("POST", meetPath+"/heats/"+other.Id+"/hand-count", `{"entry":"`+other.Lanes[0].Racer.Entry+`","distance_m":93,"u_distance_m":0.5}`)
		run := *w.heat(other.Id).Lanes[0].Run
		var hand gen.RunCurve
		w.get(meetPath+"/runs/"+run+"/curve", &hand)
		if len(hand.Samples) != 0 || hand.Conditions != nil || hand.Run.Figures.DistanceM != 93 {
			t.Errorf("got %+v", hand)
		}
		w.get(meetPath+"/runs/"+run+"/difference?from="+*one.Armed, &d)
		near("its difference", d.DistanceM.Value, 93-c.Run.Figures.DistanceM, 1e-5)
		if d.DistanceM.U < 0.5 {
			t.Errorf("the count is not better than it says: %+v", d.DistanceM)
		}
	})
}
