package main

import (
	"bytes"
	"regexp"
	"strings"
	"testing"
)

// large finds numbers that make an honest computation long: days played, cars, seconds.
var large = regexp.MustCompile(`[0-9]{5,}|[eE]`)

// FuzzPlan: whatever a file of a plan or of a forecast says, it is computed or refused
// with one of the codes of exit, and a no has a sentence and no output. What asks for
// much is left out: it is long by right.
func FuzzPlan(f *testing.F) {
	commands := [][]string{{"timetable", "--rounds", "1", "-"}, {"forecast", "-"}}
	for i := range commands {
		for _, seed := range []string{
			`{}`, `[]`, ``, "\xff", `{"unit":"s"}`,
			`{"unit":"s","resources":{"bench":2},"activities":[{"id":"1.1","duration":240,"needs":{"bench":2},"entries":["A","B"]},
				{"id":"1.2","duration":240,"needs":{"bench":1},"after":["1.1"],"due":900,"entries":["A"]}],"rest":{"default":60},
				"outages":[{"resource":"bench","amount":1,"from":300,"to":400}],"benches":["b1","b2"],"fixed":{"1.1":0}}`,
			`{"opens":0,"closes":9000,"benches":2,"changeover":90,"failure_rate":0.01,"rerun_rate":0.05,"samples":100,"seed":1,
				"divisions":[{"id":"J","entries":4,"car_sd":0.04,"run_sd":0.008,"stages":[{"kind":"timed-rounds","rounds":1,"race":60}]}]}`,
			`{"samples":100,"benches":1,"divisions":[{"id":"J","entries":3,"stages":[{"kind":"knockout","entries":9}]}]}`,
		} {
			f.Add(uint8(i), []byte(seed))
		}
	}
	f.Fuzz(func(t *testing.T, at uint8, text []byte) {
		if len(text) > 2<<10 || large.Match(text) {
			return
		}
		name := commands[int(at)%len(commands)]
		if name[0] == "forecast" && !bytes.Contains(text, []byte(`"samples":100,`)) && bytes.Contains(text, []byte("divisions")) {
			return // it would play 2000 days
		}
		var out, said bytes.Buffer
		code := run(t.Context(), name, bytes.NewReader(text), &out, &said)
		switch {
		case code == exitDone && out.Len() > 0:
		case (code == exitRefused || code == exitUsage) && out.Len() == 0 && strings.HasPrefix(said.String(), "benchmeet: "):
		default:
			t.Errorf("%s %q: %d, output %q, said %q", name, text, code, out.String(), said.String())
		}
	})
}
