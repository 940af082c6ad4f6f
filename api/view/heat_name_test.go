package view_test

import (
	"bufio"
	"bytes"
	"encoding/json"
	"flag"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"benchmeet/api/gen"
	"benchmeet/api/view"
	"benchmeet/domain/day"
	"benchmeet/domain/naming"
)

var rewriteNames = flag.Bool("rewrite-names", false, "write anew what heats are called, then read the difference")

// heatCalled is a heat as pages get it, and what sentences of the server call it.
type heatCalled struct {
	Division struct {
		ID          string          `json:"id"`
		Name        string          `json:"name"`
		Stage       int             `json:"stage"`
		RoundsTotal int             `json:"rounds_total"`
		Stages      []gen.StageBody `json:"stages"`
	} `json:"division"`
	Heat gen.Heat `json:"heat"`
	Says string   `json:"says"`
}

// TestHeatsAreCalledAlike keeps, of every kind of heat in the golden days, what pages get of
// it and what the server's sentences call it. web/src/desk/day/names.test.ts holds that a page
// calls it the same.
func TestHeatsAreCalledAlike(t *testing.T) {
	logs, err := filepath.Glob("../../domain/meet/testdata/golden/*.jsonl")
	if err != nil || len(logs) < 30 {
		t.Fatal("few golden logs", err)
	}
	seen, out := map[string]bool{}, []heatCalled{}
	for _, path := range logs {
		v := view.MeetView{ID: "spring", State: folded(t, path)}
		for _, h := range v.State.SortedHeats() {
			d := v.State.Divisions[h.Division]
			shown := v.Division(d)
			one := heatCalled{Heat: v.Heat(h.ID), Says: naming.Heat(v.State, h)}
			one.Division.ID, one.Division.Name, one.Division.Stages = shown.Id, shown.Name, shown.Stages
			one.Division.Stage, one.Division.RoundsTotal = shown.Stage, shown.RoundsTotal
			kind := string(one.Division.Stages[h.Stage-1].Kind) + " " + strings.TrimPrefix(one.Says, d.Name)
			if seen[kind] {
				continue
			}
			seen[kind] = true
			one.Heat.Lanes, one.Heat.Called, one.Heat.Started, one.Heat.Posted, one.Heat.ProtestUntil = []gen.Lane{}, nil, nil, nil, nil
			out = append(out, one)
		}
	}
	got, err := json.MarshalIndent(out, "", " ")
	if err != nil {
		t.Fatal(err)
	}
	const kept = "testdata/heat_names.json"
	if *rewriteNames {
		if err := os.WriteFile(kept, append(got, '\n'), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(kept)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(bytes.TrimSpace(want), got) {
		t.Errorf("heats are called otherwise than in %s: go test ./api/view -run CalledAlike -rewrite-names, then read the difference", kept)
	}
}

func folded(t *testing.T, path string) *day.State {
	t.Helper()
	text, err := os.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	defer text.Close()
	lines := bufio.NewScanner(text)
	lines.Buffer(nil, 1<<24)
	s := day.New()
	for lines.Scan() {
		var e struct {
			Type string
			V    int
			Data json.RawMessage
			Time int64
		}
		if err := json.Unmarshal(lines.Bytes(), &e); err != nil {
			t.Fatal(err)
		}
		fact, err := day.Decode(e.Type, e.V, e.Data)
		if err != nil {
			t.Fatal(err)
		}
		day.Evolve(s, fact, e.Time)
	}
	return s
}
