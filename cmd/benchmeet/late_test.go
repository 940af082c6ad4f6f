package main

import (
	"encoding/json"
	"fmt"
	"math/rand/v2"
	"net/http"
	"os"
	"regexp"
	"slices"
	"testing"

	"benchmeet/api/archive"
	"benchmeet/api/auth"
	"benchmeet/api/gen"
	"benchmeet/domain/journal"
)

// TestProveLateChunksChangeNoRecordedRun: whatever chunks come after runs were
// recorded, empty ones, ends, ends of other meets, from the runs' own keys and from
// others, each is kept, and the runs' traces, curves and figures stay as they were, to
// the byte; so does what verify says of them. What came late waits apart, also in an
// archive and in the database that it is imported into.
func TestProveLateChunksChangeNoRecordedRun(t *testing.T) {
	databases(t, func(t *testing.T, database string) {
		w := newWired(t, database)
		w.smallMeet()
		h := w.startFirstHeat()
		var keys []lateKey
		for i, l := range h.Lanes {
			w.sendStamps(*l.Bench, *l.Armed, "00000000000000aa", fading(uint64(i+1), 6000+600*float64(i)))
			keys = append(keys, lateKey{*l.Bench, "00000000000000aa", *l.Armed})
		}
		// A run in three chunks that waits for a ruling, and one of practice.
		for number, body := range []string{
			`{"boot":"00000000000000bb","run":"stray","number":0,"stamps_us":[1000000,1010000]}`,
			`{"boot":"00000000000000bb","run":"stray","number":1,"stamps_us":[1020000,1030000]}`,
			`{"boot":"00000000000000bb","run":"stray","number":2,"stamps_us":[1040000],"last":{"chunks":3,"stamps":5,"meet":"spring"}}`,
			`{"boot":"00000000000000bb","run":"try","number":0,"stamps_us":[1000000,1010000,1020000],"last":{"chunks":1,"stamps":3}}`,
		} {
			if a := w.chunk("b1", body); a.status != http.StatusOK {
				t.Fatalf("chunk %d: %d %s", number, a.status, a.body)
			}
		}
		keys = append(keys, lateKey{"b1", "00000000000000bb", "stray"}, lateKey{"b1", "00000000000000bb", "try"})
		runs := []string{*h.Lanes[0].Armed, *h.Lanes[1].Armed, "stray"}
		before := w.evidence(runs)

		rounds := 150
		if os.Getenv("BENCHMEET_PROVE") == "1" {
			rounds = 3000
		}
		rng := rand.New(rand.NewPCG(1, 77))
		late := map[string]bool{}
		sent := map[string]string{} // by key and number, what is kept
		for n := range rounds {
			k, body, number := keys[rng.IntN(len(keys))], "", 0
			strange := rng.IntN(4) == 0
			if strange { // another bench, boot or name, close to those that are there
				switch rng.IntN(3) {
				case 0:
					k.bench = map[string]string{"b1": "b2", "b2": "b1"}[k.bench]
				case 1:
					k.boot = fmt.Sprintf("%016x", 0xc0+rng.IntN(3))
				case 2:
					k.run += "." + k.boot
				}
			}
			number, body = randomChunk(rng, k)
			place := fmt.Sprint(k, number)
			a := w.chunk(k.bench, body)
			switch old, there := sent[place]; {
			case there && old != body:
				if a.status != http.StatusConflict && a.status != http.StatusOK { // the same content may be written in two ways
					t.Fatalf("another content under a key: %d %s", a.status, a.body)
				}
			case a.status == http.StatusConflict && !there && number < 3: // what the run is made of
			case a.status != http.StatusOK:
				t.Fatalf("round %d: a chunk of %v was turned away: %d %s", n, k, a.status, a.body)
			default:
				sent[place] = body
				var kept gen.ChunkKept
				if err := json.Unmarshal(a.body, &kept); err != nil {
					t.Fatal(err)
				}
				if kept.Fresh && !strange {
					late[place] = true
				}
			}
			if n%50 == 49 {
				w.sameEvidence(fmt.Sprintf("after %d chunks", n+1), before, w.evidence(runs))
			}
		}
		if len(late) < rounds/10 {
			t.Fatalf("only %d chunks came late: this proves nothing", len(late))
		}
		report, err := archive.Verify(t.Context(), w.server.store, journal.Hash{})
		if err != nil || !report.OK() {
			t.Errorf("verify: %v %v", err, report.Problems)
		}
		if report.ChunksLate < len(late) {
			t.Errorf("%d chunks wait apart, at least %d came late", report.ChunksLate, len(late))
		}
		if err := w.server.intake.Sweep(t.Context(), "harbour"); err != nil {
			t.Errorf("sweep: %v", err)
		}
		w.sameEvidence("after a sweep", before, w.evidence(runs))
		w.again(t, report)
	})
}

var position = regexp.MustCompile(`"seq":\d+,`)

type lateKey struct{ bench, boot, run string }

// randomChunk is a chunk of a key: often without stamps, the next number, or far away;
// sometimes an end, of this meet, of another or of practice.
func randomChunk(rng *rand.Rand, k lateKey) (int, string) {
	number := []int{0, 1, 2, 3, 4, 50, rng.IntN(4000), rng.IntN(4000)}[rng.IntN(8)]
	stamps := []int64{}
	for range rng.IntN(4) {
		stamps = append(stamps, rng.Int64N(20_000_000))
	}
	slices.Sort(stamps)
	body := map[string]any{"boot": k.boot, "run": k.run, "number": number, "stamps_us": stamps}
	if rng.IntN(3) == 0 {
		last := map[string]any{"chunks": number + 1, "stamps": rng.IntN(10)}
		if meet := []string{"", "spring", "autumn"}[rng.IntN(3)]; meet != "" {
			last["meet"] = meet
		}
		body["last"] = last
	}
	text, _ := json.Marshal(body)
	return number, string(text)
}

func (w *wired) chunk(bench, body string) answer {
	w.t.Helper()
	return w.send(request{role: auth.Box, method: "POST", path: "/api/v1/benches/" + bench + "/chunks", body: body})
}

// evidence is what the API and verify say of some runs.
func (w *wired) evidence(runs []string) map[string]string {
	w.t.Helper()
	out := map[string]string{}
	for _, run := range runs {
		for _, part := range []string{"trace", "curve"} {
			a := w.send(request{role: auth.Organiser, method: "GET", path: meetPath + "/runs/" + run + "/" + part})
			// A whole run of another key is an event of its own, and moves the position.
			out[run+" "+part] = fmt.Sprint(a.status, " ", position.ReplaceAllString(string(a.body), ""))
		}
	}
	var list gen.RunList
	w.get(meetPath+"/runs", &list)
	for _, r := range list.Runs {
		if slices.Contains(runs, r.Id) {
			text, err := json.Marshal(r)
			if err != nil {
				w.t.Fatal(err)
			}
			out[r.Id] = string(text)
		}
	}
	report, err := archive.Verify(w.t.Context(), w.server.store, journal.Hash{})
	if err != nil {
		w.t.Fatal(err)
	}
	out["verify"] = fmt.Sprint(report.Problems)
	return out
}

func (w *wired) sameEvidence(when string, want, got map[string]string) {
	w.t.Helper()
	for what, text := range want {
		if got[what] != text {
			w.t.Fatalf("%s: %s is\n%s\nand was\n%s", when, what, got[what], text)
		}
	}
}

// again looks at the same through an archive and a database that it is imported into.
func (w *wired) again(t *testing.T, want archive.Report) {
	w.t.Helper()
	path := w.t.TempDir() + "/all.benchmeet"
	args := []string{"export", path, "--data", w.server.options.Data}
	if w.server.options.Database != "" {
		args = append(args, "--database", w.server.options.Database)
	}
	if code, _, stderr := runHere(t, args...); code != exitDone {
		w.t.Fatalf("export: %d %s", code, stderr)
	}
	data := w.t.TempDir()
	if code, _, stderr := runHere(t, "import", path, "--data", data); code != exitDone {
		w.t.Fatalf("import: %d %s", code, stderr)
	}
	for _, from := range [][]string{{path}, {"--data", data}} {
		code, stdout, stderr := runHere(t, append([]string{"verify"}, from...)...)
		var report archive.Report
		if err := json.Unmarshal([]byte(stdout), &report); err != nil || code != exitDone {
			w.t.Errorf("verify %v: %d %s %v", from, code, stderr, err)
		}
		if report.ChunksLate != want.ChunksLate || report.RunsMeasured != want.RunsMeasured {
			w.t.Errorf("verify %v says %+v, the server's database %+v", from, report, want)
		}
	}
}
