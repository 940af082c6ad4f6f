package meet_test

import (
	"bytes"
	"encoding/json"
	"maps"
	"path/filepath"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"benchmeet/domain/day"
	"benchmeet/domain/journal"
)

// saidSince are the fields that events have since version 2: what rules made of them.
var saidSince = map[string][]string{
	"DeciderDrawn":      {"again"},
	"EntryChanged":      {"lapses"},
	"EntryDisqualified": {"ends"},
	"EntryReinstated":   {"again", "clears"},
	"EntryWithdrawn":    {"ends"},
	"HeatStarted":       {"ends_us"},
	"HeatVoided":        {"void_runs", "again"},
	"MeetResumed":       {"deadlines_us", "protests_us", "batteries_since_us"},
	"RerunGranted":      {"better", "drops_penalty_um", "again"},
	"ResultsPosted":     {"keeps"},
	"RoundClosed":       {"factor_set"},
	"RoundDrawn":        {"out", "protest_until_us"}, // of its heats
	"RoundDrawnAgain":   {"out", "protest_until_us"},
	"RunAccepted":       {"sets_aside"},
	"RunReassigned":     {"again", "sets_aside"},
	"RunRecorded":       {"sent", "result", "decider"},
	"StatusRuled":       {"stands", "keeps", "again"},
}

// TestToldDaysFoldAlike folds every told day three ways: as it is; by a program whose
// rules are others; and as a log of version 1. All give the same state, because events
// say what the rules made of them, and those that do not are read by the rules of then.
// Each field that says so must come up on some day.
func TestToldDaysFoldAlike(t *testing.T) {
	paths, err := filepath.Glob("testdata/day/*.txt")
	if err != nil || len(paths) < 40 {
		t.Fatalf("%d told days, %v", len(paths), err)
	}
	said := map[string]map[string]bool{}
	for _, path := range paths {
		t.Run(filepath.Base(path), func(t *testing.T) {
			d := play(t, path)
			foldsAlike(t, d.s, d.log)
			for _, r := range d.log {
				e, err := r.Open()
				if err != nil {
					t.Fatal(err)
				}
				_, gone := asBefore(t, e)
				for _, field := range gone {
					if said[e.Type] == nil {
						said[e.Type] = map[string]bool{}
					}
					said[e.Type][field] = true
				}
			}
		})
	}
	for kind, fields := range saidSince {
		if got := slices.Sorted(maps.Keys(said[kind])); !slices.Equal(got, slices.Sorted(slices.Values(fields))) {
			t.Errorf("on all told days events %s say %v, want all of %v", kind, got, fields)
		}
	}
	for _, kind := range day.Types() {
		if want := 1 + min(1, len(saidSince[kind])); day.VersionOf(kind) != want {
			t.Errorf("%s is written in version %d, want %d", kind, day.VersionOf(kind), want)
		}
	}
}

// TestRandomDaysFoldAlike does so with days that nobody would think of.
func TestRandomDaysFoldAlike(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := newRandomDay(t)
		for range rapid.IntRange(20, 160).Draw(t, "commands") {
			d.give(d.command())
		}
		foldsAlike(d.tb, d.s, d.log)
	})
}

func foldsAlike(t testing.TB, s *day.State, log []journal.Record) {
	t.Helper()
	want := stateJSON(t, s)
	plain, blind, old := day.New(), day.New(), day.New()
	for _, r := range log {
		e, err := r.Open()
		if err != nil {
			t.Fatal(err)
		}
		fold(t, plain, e.Type, e.V, e.Data, e.Time)
		fold(t, blind, e.Type, e.V, e.Data, e.Time)
		otherRules(blind, plain)

		version, data := e.V, []byte(e.Data)
		if saidSince[e.Type] != nil {
			version = 1
			data, _ = asBefore(t, e)
		}
		fold(t, old, e.Type, version, data, e.Time)
	}
	blind.Rules, blind.Factors, blind.Divisions = s.Rules, s.Factors, s.Divisions
	if got := stateJSON(t, blind); !bytes.Equal(got, want) {
		t.Fatalf("by other rules the log folds to another state\n got %s\nwant %s", got, want)
	}
	// A run of version 1 does not know under which name it was sent.
	nameless := s.Clone()
	for id, r := range nameless.Runs {
		r.Sent = ""
		nameless.Runs[id] = r
	}
	if got, want := stateJSON(t, old), stateJSON(t, nameless); !bytes.Equal(got, want) {
		t.Fatalf("in version 1 the log folds to another state\n got %s\nwant %s", got, want)
	}
}

func fold(t testing.TB, s *day.State, kind string, version int, data []byte, atUS int64) {
	t.Helper()
	e, err := day.Decode(kind, version, data)
	if err != nil {
		t.Fatal(err)
	}
	day.Evolve(s, e, atUS)
}

// otherRules gives a state all of the rules and settings by which results are judged
// otherwise than those that are in force.
func otherRules(s, inForce *day.State) {
	s.Rules = day.Rules{ProtestUS: 1, CallUS: 1, RerunsPerEntry: 20, HandCounts: day.HandShown}
	if inForce.Rules.HandCounts == day.HandShown {
		s.Rules.HandCounts = day.HandRanks
	}
	s.Factors = slices.Clone(inForce.Factors)
	for i, set := range s.Factors {
		set.Withdrawn = !set.Withdrawn
		set.Factors = slices.Clone(set.Factors)
		for k := range set.Factors {
			set.Factors[k].FactorPPM = 3_000_000 / (1 + int64(k))
		}
		s.Factors[i] = set
	}
	for id, d := range s.Divisions {
		d.Stages = slices.Clone(d.Stages)
		for i := range d.Stages {
			d.Stages[i] = day.Stage{RaceUS: 1} // of no form
		}
		s.Divisions[id] = d
	}
}

// asBefore is an event's data as version 1 had it, and the fields that are gone.
func asBefore(t testing.TB, e journal.Envelope) (data []byte, gone []string) {
	t.Helper()
	var all map[string]any
	d := json.NewDecoder(bytes.NewReader(e.Data))
	d.UseNumber()
	if err := d.Decode(&all); err != nil {
		t.Fatal(err)
	}
	of := []any{all}
	drawn, _ := all["drawn"].(map[string]any)
	switch e.Type {
	case "RoundDrawn":
		of = all["heats"].([]any)
	case "RoundDrawnAgain":
		of = drawn["heats"].([]any)
	}
	for _, one := range of {
		for _, field := range saidSince[e.Type] {
			if _, there := one.(map[string]any)[field]; there {
				delete(one.(map[string]any), field)
				gone = append(gone, field)
			}
		}
	}
	data, err := json.Marshal(all)
	if err != nil {
		t.Fatal(err)
	}
	return data, gone
}
