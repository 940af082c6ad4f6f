package main

import (
	"bytes"
	"encoding/json"
	"flag"
	"os"
	"strings"
	"testing"

	"benchmeet/domain/simulate"
)

var updateLooks = flag.Bool("update-looks", false, "write anew how faults look in the plot, for the builder's page")

// signalLook is a fault as "node --check" tells and draws it.
type signalLook struct {
	Fault string   `json:"fault"`
	Says  string   `json:"says"`
	Rows  []string `json:"rows"`
}

// TestSignalLooks: the pictures and words on the builder's page are those of the terminal.
func TestSignalLooks(t *testing.T) {
	faults := []struct {
		name   string
		change func(*simulate.Params)
	}{
		{"good", func(*simulate.Params) {}},
		{"echo", func(p *simulate.Params) { p.TrailRate = 0.4 }},
		{"missed", func(p *simulate.Params) { p.MissRate = 0.1 }},
		{"stray", func(p *simulate.Params) { p.StrayPerS = 10 }},
		{"lamp", func(p *simulate.Params) { p.FlickerHz = 100 }},
		{"bursts", func(p *simulate.Params) { p.RemoteAtS, p.RemoteS = 5, 0.2 }},
		{"unsteady", func(p *simulate.Params) { p.JitterPart = 0.08 }},
		{"marks", func(p *simulate.Params) { p.MarkAngles, p.Marks = []float64{0, 100, 250}, 3 }},
		{"breaks", func(p *simulate.Params) { p.FailAtS = 6 }},
	}
	var looks []signalLook
	for _, f := range faults {
		out, err := lookAt(t, wroteBy(f.change))
		says, rest, _ := strings.Cut(out, "\n")
		if (err == nil) != (f.name == "good") || (err == nil) != strings.HasPrefix(says, "GOOD") {
			t.Errorf("%s: it says %q (%v)", f.name, says, err)
		}
		look := signalLook{Fault: f.name, Says: says, Rows: []string{}}
		for line := range strings.Lines(rest) {
			if row, is := strings.CutPrefix(line, "|"); is {
				look.Rows = append(look.Rows, strings.TrimRight(row, "\n"))
			}
		}
		looks = append(looks, look)
	}
	var want bytes.Buffer
	e := json.NewEncoder(&want)
	e.SetIndent("", "  ")
	if err := e.Encode(looks); err != nil {
		t.Fatal(err)
	}
	const file = "../../web/src/screen/box/looks.json"
	if *updateLooks {
		if err := os.WriteFile(file, want.Bytes(), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	got, err := os.ReadFile(file)
	if err != nil || !bytes.Equal(got, want.Bytes()) {
		t.Errorf("%s is not what the terminal shows (%v): go test ./cmd/benchmeet -run TestSignalLooks -update-looks", file, err)
	}
}
