// Package programmetest makes stages for tests of other packages, which do not know
// the forms of competition.
package programmetest

import (
	"encoding/json"
	"maps"

	"benchmeet/domain/day"
	"benchmeet/domain/programme"
)

// Set are settings of a stage by their names in logs, such as "race_us".
type Set map[string]any

// Stage makes a stage of a kind: two lanes and a minute, if nothing else is set. It
// panics where programme.ReadStage refuses.
func Stage(kind day.StageKind, set Set) day.Stage {
	all := Set{"lanes": 2, "race_us": 60_000_000}
	maps.Copy(all, set)
	all["kind"] = kind
	st, err := Read(all)
	if err != nil {
		panic(err)
	}
	return st
}

// With is a stage with some of its settings changed.
func With(st day.Stage, set Set) day.Stage {
	all := settings(st)
	maps.Copy(all, set)
	return Stage(st.Kind(), all)
}

// Read makes a stage as programme.ReadStage does, the first one of division "junior".
func Read(set Set) (day.Stage, error) {
	text, err := json.Marshal(set)
	if err != nil {
		return day.Stage{}, err
	}
	return programme.ReadStage("junior", 1, text)
}

// Number is a setting that is a whole number; 0 where the stage does not have it.
func Number(st day.Stage, name string) int {
	n, _ := settings(st)[name].(float64)
	return int(n)
}

// On says whether a setting is there and true.
func On(st day.Stage, name string) bool {
	yes, _ := settings(st)[name].(bool)
	return yes
}

func settings(st day.Stage) Set {
	text, err := json.Marshal(st)
	if err != nil {
		panic(err)
	}
	all := Set{}
	if err := json.Unmarshal(text, &all); err != nil {
		panic(err)
	}
	return all
}
