package main

import (
	"bytes"
	"strings"
	"testing"
)

// FuzzInput: whatever a file says, a computation is done or refused with one of the three
// codes of exit, a no has a sentence and no output, and nothing breaks. What may search
// for long is left out; it reads its files by the same decoder.
func FuzzInput(f *testing.F) {
	commands := []string{"measure", "rank", "pair"}
	for i := range commands {
		for _, seed := range []string{
			`{}`, `[]`, ``, `{"bench":{"circumference_mm":94.25,"marks_per_turn":1,"stamp_us":1,"clock_ppm":50},"stamps_us":[1000,7000,13000]}`,
			`{"measure":"distance_m","better":"more","rule":"best","entries":["A","B"],"runs":[{"round":1,"entry":"A","value":2,"u":0.1}]}`,
			`{"scoring":{"win":1,"draw":0.5,"loss":0,"bye":1},"tie_breaks":["direct"],"entries":["A"],"results":[]}`,
			`{"round":1,"rounds_total":3,"lot_seed":4,"entries":[{"id":"A","rank":1,"points":0},{"id":"B","rank":2,"points":0}]}`,
			"{\"stamps_us\":[1e400]}", "\xff",
		} {
			f.Add(uint8(i), []byte(seed))
		}
	}
	f.Fuzz(func(t *testing.T, at uint8, text []byte) {
		if len(text) > 4<<10 {
			return
		}
		name := commands[int(at)%len(commands)]
		var out, said bytes.Buffer
		code := run(t.Context(), []string{name, "-"}, bytes.NewReader(text), &out, &said)
		switch {
		case code == exitDone && out.Len() > 0:
		case (code == exitRefused || code == exitUsage) && out.Len() == 0 && strings.HasPrefix(said.String(), "benchmeet: "):
		default:
			t.Errorf("%s %q: %d, output %q, said %q", name, text, code, out.String(), said.String())
		}
	})
}
