package main

import (
	"encoding/json"
	"net/http"
	"slices"
	"testing"
	"time"

	"benchmeet/api/auth"
	"benchmeet/api/gen"
	"benchmeet/api/store"
)

// exampleAt is the example as a server shows it that starts at an instant.
func exampleAt(t *testing.T, data string, now time.Time) (gen.MeetList, func(path string, into any)) {
	t.Helper()
	o := serverOptions{
		Listen: "127.0.0.1:0", Data: data, Scale: 1, Stepped: true, Clock: func() time.Time { return now },
		Club: store.Club{ID: homeClub, Name: "Harbour Hall"},
	}
	if err := raceExampleMorning(t.Context(), o); err != nil {
		t.Fatal(err)
	}
	s, err := startServer(t.Context(), o)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = s.Close() })
	secret := s.tokens.Lent.Make(homeClub, auth.Organiser)
	read := func(path string, into any) {
		t.Helper()
		r, err := http.NewRequestWithContext(t.Context(), http.MethodGet, s.url()+"/api/v1/meets"+path, http.NoBody)
		if err != nil {
			t.Fatal(err)
		}
		r.Header.Set("Authorization", "Bearer "+secret)
		res, err := http.DefaultClient.Do(r)
		if err != nil {
			t.Fatal(err)
		}
		defer res.Body.Close()
		if res.StatusCode != http.StatusOK {
			t.Fatalf("GET %s: %s", path, res.Status)
		}
		if err := json.NewDecoder(res.Body).Decode(into); err != nil {
			t.Fatal(err)
		}
	}
	var list gen.MeetList
	read("", &list)
	return list, read
}

// TestExampleHasATimetable: at noon, shortly before midnight and shortly after, in a leap year too,
// whoever starts the example finds a day whose families were told their times this morning, that
// is some minutes later than that, and that is likely over within the hour and before the hall closes.
func TestExampleHasATimetable(t *testing.T) {
	for _, now := range []time.Time{
		time.Date(2026, 11, 30, 12, 7, 31, 0, time.Local), time.Date(2027, 7, 5, 23, 58, 0, 0, time.Local),
		time.Date(2028, 2, 29, 0, 2, 59, 0, time.Local),
	} {
		t.Run(now.Format("15:04"), func(t *testing.T) {
			list, read := exampleAt(t, t.TempDir(), now)
			if len(list.Meets) != 1 {
				t.Fatalf("the meets are %+v", list.Meets)
			}
			var p gen.DayPlan
			read("/"+list.Meets[0].Id+"/day-plan", &p)
			if p.Told == nil || p.Told.Finish == nil || p.Finish == nil || p.Forecast == nil || p.Begun == nil || p.LastRaceBy == nil {
				t.Fatalf("the plan is %+v", p)
			}
			if since := now.Sub(p.Told.At); since < 40*time.Minute || since > 55*time.Minute {
				t.Errorf("the times were told %s ago", since)
			}
			if behind := p.Finish.Sub(*p.Told.Finish); behind < 5*time.Minute || behind > 30*time.Minute {
				t.Errorf("the day is %s behind what was told", behind)
			}
			if left := p.Finish.Sub(now); left < 5*time.Minute || left > time.Hour || !p.Finish.Before(*p.LastRaceBy) {
				t.Errorf("it is over in %s, by %s, and has to be by %s", left, p.Finish, p.LastRaceBy)
			}
			if f := p.Forecast; f.P10.After(f.P50) || !f.P10.Before(f.P90) || f.LateChance == nil {
				t.Errorf("the forecast is %+v", f)
			}
			if len(*p.Begun) < 4 || !slices.IsSortedFunc(*p.Begun, func(a, b gen.BegunRound) int { return a.Began.Compare(b.Began) }) {
				t.Errorf("begun are %+v", *p.Begun)
			}
			for _, r := range *p.Begun {
				if late := r.Began.Sub(r.NotBefore); late < 0 || late > 40*time.Minute || r.Began.After(now) {
					t.Errorf("%s %d.%d was told for %s and began at %s", r.Division, r.Stage, r.Round, r.NotBefore, r.Began)
				}
			}
			var all gen.HeatList
			read("/"+list.Meets[0].Id+"/heats", &all)
			for _, h := range all.Heats {
				if h.Phase == gen.HeatPhaseCalled || h.Phase == gen.HeatPhaseRacing || h.Posted != nil && h.Posted.After(now) {
					t.Errorf("heat %s was left %s", h.Id, h.Phase)
				}
			}
		})
	}
}

// TestExampleMorningIsRacedOnce: a day that was left goes on as long as its hall is open; once it is
// closed the next meet has its morning.
func TestExampleMorningIsRacedOnce(t *testing.T) {
	data, now := t.TempDir(), time.Date(2026, 11, 30, 12, 7, 31, 0, time.Local)
	ids := func(at time.Time) (out []string) {
		t.Run(at.Format("15:04"), func(t *testing.T) {
			list, _ := exampleAt(t, data, at)
			for _, m := range list.Meets {
				out = append(out, m.Id)
			}
			slices.Sort(out)
		})
		return out
	}
	first := ids(now)
	if again := ids(now.Add(10 * time.Minute)); len(first) != 1 || !slices.Equal(again, first) {
		t.Errorf("after ten minutes the meets are %v, before %v", again, first)
	}
	if next := ids(now.Add(3 * time.Hour)); !slices.Equal(next, []string{first[0], first[0] + "-2"}) {
		t.Errorf("after three hours the meets are %v", next)
	}
}
