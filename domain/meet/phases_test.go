package meet_test

import (
	"maps"
	"os"
	"path/filepath"
	"slices"
	"testing"

	"benchmeet/domain/day"
)

// step is from one phase of a heat, or state of a lane, to the next.
type step [2]string

// heatSteps and laneSteps are the arrows of the pictures in DEVELOPERS.md, and the
// events that lead along them.
var (
	heatSteps = map[step][]string{
		{"drawn", "called"}:         {"HeatCalled"},
		{"called", "racing"}:        {"HeatStarted"},
		{"racing", "provisional"}:   {"ResultsPosted"},
		{"provisional", "official"}: {"RoundClosed"},
		{"racing", "official"}:      {"ResultsPosted"}, // raced again in part, in a round that is closed
		{"called", "provisional"}:   {"ResultsPosted"}, // a walkover, or nobody came
		{"drawn", "provisional"}:    {"DeciderDropped", "ResultsPosted"},
		{"called", "drawn"}:         {"HeatCalledOff", "HeatVoided", "LaneLeft"},
		{"racing", "drawn"}:         {"HeatVoided", "RunRecorded"}, // a lane whose bench failed is called again
		{"provisional", "drawn"}:    {"EntryReinstated", "HeatVoided", "RerunGranted", "RunReassigned"},
		{"official", "drawn"}:       {"HeatVoided", "RerunGranted"},
	}
	laneSteps = map[step][]string{
		{"waiting", "called"}: {"HeatCalled"},
		{"called", "ready"}:   {"BenchReady"},
		{"ready", "racing"}:   {"HeatStarted"},
		{"racing", "done"}:    {"EntryWithdrawn", "RunAccepted", "RunRecorded", "StatusRuled"},
		{"called", "done"}:    {"EntryWithdrawn", "ResultsPosted", "StatusRuled"},
		{"waiting", "done"}:   {"DeciderDropped", "EntryDisqualified", "EntryWithdrawn", "ResultsPosted", "StatusRuled"},
		{"called", "waiting"}: {"HeatCalledOff", "HeatVoided", "LaneLeft"},
		{"ready", "waiting"}:  {"HeatCalledOff", "LaneLeft"},
		{"racing", "waiting"}: {"HeatVoided", "RerunGranted"},
		{"ready", "called"}:   {"ReadyTakenBack"},
		{"done", "waiting"}:   {"EntryReinstated", "HeatVoided", "RerunGranted", "RunReassigned"},
	}
)

// seldomSteps are arrows that no golden day goes along: cars that leave or are ruled on
// at the bench, and a lane of a closed round that needs no race after all.
var seldomSteps = map[step]bool{
	{"ready", "done"}: true, {"drawn", "official"}: true, {"called", "official"}: true,
}

// stepsOf tells of all steps that heats and lanes have taken from one state to the next.
func stepsOf(before map[day.HeatID]day.Heat, s *day.State, heat, lane func(step)) {
	for id, h := range s.Heats {
		old, there := before[id]
		if !there || old.Round != h.Round {
			continue
		}
		if old.Phase != h.Phase {
			heat(step{string(old.Phase), string(h.Phase)})
		}
		for _, l := range h.Lanes {
			if i, in := old.Lane(l.Entry); in && old.Lanes[i].State != l.State {
				lane(step{string(old.Lanes[i].State), string(l.State)})
			}
		}
	}
}

// TestPhases follows the heats and lanes of all golden days: they go along the arrows,
// along each of them, and along no others.
func TestPhases(t *testing.T) {
	heats, lanes := map[step][]string{}, map[step][]string{}
	note := func(in map[step][]string, by string) func(step) {
		return func(s step) {
			if !slices.Contains(in[s], by) {
				in[s] = append(in[s], by)
				slices.Sort(in[s])
			}
		}
	}
	for _, name := range goldenDays {
		text, err := os.ReadFile(filepath.Join("testdata", "golden", name+".jsonl"))
		if err != nil {
			t.Fatal(err)
		}
		s := day.New()
		for _, r := range goldenLog(t, text) {
			e, err := r.Open()
			if err != nil {
				t.Fatal(err)
			}
			event, err := day.Decode(e.Type, e.V, e.Data)
			if err != nil {
				t.Fatal(err)
			}
			before := maps.Clone(s.Heats)
			day.Evolve(s, event, e.Time)
			if e.Type != "RoundDrawnAgain" && e.Type != "RestDrawnAgain" { // those are other heats
				stepsOf(before, s, note(heats, e.Type), note(lanes, e.Type))
			}
		}
	}
	for _, of := range []struct {
		what      string
		got, want map[step][]string
	}{{"heats", heats, heatSteps}, {"lanes", lanes, laneSteps}} {
		for s, by := range of.want {
			if !slices.Equal(of.got[s], by) {
				t.Errorf("%s go from %s to %s by %v, the picture says by %v", of.what, s[0], s[1], of.got[s], by)
			}
		}
		for s, by := range of.got {
			if of.want[s] == nil {
				t.Errorf("%s go from %s to %s by %v, which the picture does not show", of.what, s[0], s[1], by)
			}
		}
	}
}

// drawnIn fails where a step is none of the arrows.
func (d *randomDay) drawnIn(arrows map[step][]string, e day.Event) func(step) {
	return func(s step) {
		if arrows[s] == nil && !seldomSteps[s] {
			d.t.Fatalf("%s leads from %s to %s, which the picture does not show", e.Type(), s[0], s[1])
		}
	}
}
