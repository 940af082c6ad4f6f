package main

import (
	"net/http"
	"strings"
	"testing"

	"benchmeet/api/auth"
	"benchmeet/api/gen"
)

// TestEveryRunThatIsRecordedCanBeRuled: an id that a bench may send is short enough to be
// in addresses and orders with the boot id behind it; a longer one is refused when it
// comes, and leaves nothing.
func TestEveryRunThatIsRecordedCanBeRuled(t *testing.T) {
	w := newWired(t, "")
	w.smallMeet()
	longest := strings.Repeat("r", 128)
	send := func(run, boot string) answer {
		return w.send(request{
			role: auth.Box, method: http.MethodPost, path: chunkPath, body: `{"boot":"` + boot + `","run":"` + run + `","number":0,
				"stamps_us":[1000,9000,17000],"last":{"chunks":1,"stamps":3,"meet":"spring"}}`,
		})
	}
	before := w.position()
	if a := send(longest+"r", "00000000000000aa"); a.status != http.StatusBadRequest || a.problem.Code != "bad-chunk" ||
		!strings.Contains(a.problem.Detail, "1 to 128 letters") || len(a.body) > 1000 {
		t.Errorf("a longer one: %d %s", a.status, a.body)
	}
	if after := w.position(); after != before {
		t.Errorf("the log moved from %s to %s", before, after)
	}
	for _, boot := range []string{"00000000000000aa", "00000000000000ab"} {
		if a := send(longest, boot); a.status != http.StatusOK {
			t.Fatalf("boot %s: %d %s", boot, a.status, a.body)
		}
	}
	var list gen.RunList
	w.get(meetPath+"/runs", &list)
	if len(list.Runs) != 2 {
		t.Fatalf("%d runs are recorded", len(list.Runs))
	}
	for _, r := range list.Runs {
		w.get(meetPath+"/runs/"+r.Id+"/trace", &map[string]any{})
		w.do("POST", meetPath+"/rulings", `{"kind":"set-aside","run":"`+r.Id+`","reason":{"code":"other"}}`)
	}
	ruling := `{"kind":"set-aside","run":"` + strings.Repeat("r", 193) + `","reason":{"code":"other"}}`
	for _, r := range []request{
		{role: auth.Organiser, method: http.MethodPost, path: meetPath + "/rulings", body: ruling},
		{role: auth.Organiser, method: http.MethodGet, path: meetPath + "/runs/" + strings.Repeat("r", 193) + "/trace"},
	} {
		if a := w.send(r); a.status != http.StatusBadRequest || !strings.Contains(a.problem.Detail, "at most 192 characters") {
			t.Errorf("%s %s: %d %s", r.method, r.path[:40], a.status, a.body)
		}
	}
}
