package main

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"net/http"
	"slices"
	"strings"
	"testing"

	"benchmeet/api/auth"
	"benchmeet/api/gen"
)

// TestReceiptNamesWhatItIsFor: a node lets go of a chunk by the receipt alone, so it
// names the chunk, and every answer says which bytes it answers.
func TestReceiptNamesWhatItIsFor(t *testing.T) {
	w := newWired(t, "")
	w.smallMeet()
	const good = `{"boot":"00000000000000aa","run":"try","number":7,"stamps_us":[1000,7000]}`
	for _, c := range []struct {
		name, body string
		status     int
		code       string
	}{
		{"fresh", good, http.StatusOK, ""},
		{"again", good, http.StatusOK, ""},
		{"other content", strings.Replace(good, "7000", "8000", 1), http.StatusConflict, "chunk-conflict"},
		{"stamps that run backwards", strings.Replace(good, "7000", "70", 1), http.StatusBadRequest, "bad-chunk"},
		{"cut on its way", good[:40], http.StatusBadRequest, "bad-chunk"},
	} {
		a := w.send(request{role: auth.Box, method: "POST", path: chunkPath, body: c.body})
		sum := sha256.Sum256([]byte(c.body))
		if got := a.header.Get("Benchmeet-Received"); a.status != c.status || got != hex.EncodeToString(sum[:]) {
			t.Errorf("%s: %d, received %q", c.name, a.status, got)
		}
		var kept gen.ChunkKept
		var p gen.Problem
		if err := json.Unmarshal(a.body, &kept); err != nil {
			t.Errorf("%s: %v", c.name, err)
		}
		if err := json.Unmarshal(a.body, &p); err != nil {
			t.Errorf("%s: %v", c.name, err)
		}
		if p.Code != c.code || c.code == "" && (kept.Boot != "00000000000000aa" || kept.Run != "try" || kept.Number != 7) {
			t.Errorf("%s: %s", c.name, a.body)
		}
	}
}

// TestARestartedRunIsOneRunWithItsFlag: a run in which the box restarted stands in
// its lane, says so, and says so still when it is measured again.
func TestARestartedRunIsOneRunWithItsFlag(t *testing.T) {
	w := newWired(t, "")
	w.smallMeet()
	h := w.startFirstHeat()
	lane := h.Lanes[0]
	var stamps []string
	for at := 1_000_500; at < 11_100_000; at += 7000 {
		if at < 5_000_000 || at > 6_200_000 {
			stamps = append(stamps, fmt.Sprint(at))
		}
	}
	body := fmt.Sprintf(`{"boot":"00000000000000aa","run":%q,"number":0,"stamps_us":[%s],"last":{"chunks":1,"stamps":%d,"meet":"spring",
		"start_source":"bench_clock","start_us":1000000,"duration_us":10000000,"lost":3,"restarts_us":[6200500],"clock_ppb":-5000000,"u_clock_ppb":31000}}`,
		*lane.Armed, strings.Join(stamps, ","), len(stamps))
	if a := w.send(
		request{role: auth.Box, method: "POST", path: "/api/v1/benches/" + *lane.Bench + "/chunks", body: body},
	); a.status != http.StatusOK {
		t.Fatalf("%d %s", a.status, a.body)
	}
	var runs gen.RunList
	w.get(meetPath+"/runs", &runs)
	if len(runs.Runs) != 1 || runs.Runs[0].Waiting != nil {
		t.Fatalf("the runs are %+v", runs.Runs)
	}
	codes := map[string][]int64{}
	for _, f := range runs.Runs[0].Figures.Flags {
		codes[f.Code] = nil
		if f.Args != nil {
			codes[f.Code] = *f.Args
		}
	}
	if _, lost := codes["passes-lost"]; !lost || !slices.Equal(codes["restarted"], []int64{1}) {
		t.Errorf("the flags are %v", codes)
	}
	var trace gen.Trace
	w.get(meetPath+"/runs/"+*lane.Armed+"/trace", &trace)
	total := trace.Totals
	if total.Lost == nil || *total.Lost != 3 || total.RestartsUs == nil || !slices.Equal(*total.RestartsUs, []int64{6_200_500}) ||
		total.ClockPpb == nil || *total.ClockPpb != -5_000_000 {
		t.Errorf("the trace says %+v", total)
	}
}
