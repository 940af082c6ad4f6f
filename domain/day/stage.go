package day

import (
	"bytes"
	"encoding/json"
	"fmt"
	"maps"
	"reflect"
	"slices"
)

// StageKind names a form of competition.
type StageKind string

// Stage is one part of a division's programme: what every stage has, and a form of
// competition with its settings.
type Stage struct {
	// RaceUS is how long a run lasts, in µs.
	RaceUS int64
	// Lanes is the largest number of cars in a heat.
	Lanes int
	// Entries is how many go on from the stage before; 0 is all.
	Entries int
	// Form is the form of competition, as this stage is set.
	Form Settings
}

// Settings are a form of competition as a stage is set. Package programme has the
// forms, each with settings of its own; here they are kept and not looked into.
type Settings interface {
	// Kind names the form. It never changes: logs hold it.
	Kind() StageKind
}

// Kind names the stage's form; empty where it has none yet.
func (st Stage) Kind() StageKind {
	if st.Form == nil {
		return ""
	}
	return st.Form.Kind()
}

// readSettings is the table of forms that stages of a log may have.
var readSettings = map[StageKind]func(stage []byte) (Settings, error){}

// EnterForm lets stages be read whose form is F. It is called while the program
// starts, by the package of the forms, so that this one need not know them.
func EnterForm[F Settings]() {
	var zero F
	readSettings[zero.Kind()] = func(stage []byte) (Settings, error) {
		var form F
		err := json.Unmarshal(stage, &form)
		return form, err
	}
}

// sharedSettings are what every stage has, as JSON.
type sharedSettings struct {
	Kind    StageKind `json:"kind"`
	RaceUS  int64     `json:"race_us"`
	Lanes   int       `json:"lanes"`
	Entries int       `json:"entries,omitempty"`
}

// UnmarshalJSON reads a stage with the settings of its form side by side, as logs
// hold it. A form that this program does not know is an error: a state without it
// would be wrong.
func (st *Stage) UnmarshalJSON(text []byte) error {
	var shared sharedSettings
	if err := json.Unmarshal(text, &shared); err != nil {
		return err
	}
	read, known := readSettings[shared.Kind]
	if !known {
		return fmt.Errorf("this program does not know the form of competition %q; it was written by a later one", shared.Kind)
	}
	form, err := read(text)
	if err != nil {
		return err
	}
	*st = Stage{RaceUS: shared.RaceUS, Lanes: shared.Lanes, Entries: shared.Entries, Form: form}
	return nil
}

// writtenFirst is the order in which stages have always been written: sums of old
// states hang on it. Settings that are not in it come behind, by name.
var writtenFirst = []string{
	"kind", "rounds", "race_us", "lanes", "rule", "entries", "third_place", "separate_clubs", "seeding", "seeds", "late",
	"groups", "cycles", "points", "heats", "heat_order", "advance", "next_best", "b_final", "legs", "plate", "lane_design",
	"place_points", "tie_breaks",
}

// MarshalJSON writes what UnmarshalJSON reads.
func (st Stage) MarshalJSON() ([]byte, error) {
	members := map[string]json.RawMessage{}
	for _, part := range []any{sharedSettings{st.Kind(), st.RaceUS, st.Lanes, st.Entries}, st.Form} {
		text, err := json.Marshal(part)
		if err != nil {
			return nil, err
		}
		if err := json.Unmarshal(text, &members); err != nil {
			return nil, err
		}
	}
	var out bytes.Buffer
	write := func(name string) {
		if value, there := members[name]; there {
			fmt.Fprintf(&out, ",%q:%s", name, value)
			delete(members, name)
		}
	}
	for _, name := range writtenFirst {
		write(name)
	}
	for _, name := range slices.Sorted(maps.Keys(members)) {
		write(name)
	}
	text := append(out.Bytes(), '}')
	text[0] = '{'
	return text, nil
}

// Equal says whether two stages are set alike.
func (st Stage) Equal(other Stage) bool { return reflect.DeepEqual(st, other) }
