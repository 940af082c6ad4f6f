package counterbox_test

import (
	"bytes"
	"fmt"
	"math/rand/v2"
	"os/exec"
	"slices"
	"strings"
	"testing"

	"benchmeet/api/node"
)

// onHost plays a script on the core as it runs on this computer, built to stop at each
// wrong access.
func onHost(t *testing.T, script string) []node.Line {
	t.Helper()
	cmd := exec.Command("build/host")
	cmd.Stdin = strings.NewReader(script)
	var stderr bytes.Buffer
	cmd.Stderr = &stderr
	out, err := cmd.Output()
	if err != nil {
		t.Fatalf("%v\n%s", err, stderr.String())
	}
	var lines []node.Line
	for line := range strings.Lines(string(out)) {
		l, err := node.ParseLine(strings.TrimSuffix(line, "\n"))
		if err != nil {
			t.Fatal(err)
		}
		lines = append(lines, l)
	}
	return lines
}

// TestWraps: the clock's 32 bits go round a hundred times, with passes on both sides of
// each wrap; the stamps go on.
func TestWraps(t *testing.T) {
	random := rand.New(rand.NewPCG(4, 4))
	var script strings.Builder
	var want []uint64
	for at := uint64(0); at < 100<<32; at += 1<<28 + random.Uint64N(1<<29) {
		// Seen a little before the main loop looks at the clock.
		fmt.Fprintf(&script, "seen 0 %d\nclock %d\nstep\n", at&(1<<32-1), (at+100)&(1<<32-1))
		want = append(want, at)
	}
	fmt.Fprintf(&script, "clock %d\nstep\n", (want[len(want)-1]+1_000_000)&(1<<32-1))
	got := output{lines: onHost(t, script.String())}.passes(1)
	if len(got) != len(want) {
		t.Fatalf("%d passes came out of %d", len(got), len(want))
	}
	for i, at := range want {
		if got[i] != at {
			t.Fatalf("pass %d is stamped %d, was at %d", i, got[i], at)
		}
	}
}

// TestCore: passes, commands and starts in any order, with spoiled memory: every line is
// one, counts never go back but at a start, and each number of a start comes once.
func TestCore(t *testing.T) {
	for seed := range uint64(40) {
		random := rand.New(rand.NewPCG(5, seed))
		var script strings.Builder
		clock := uint64(0)
		words := []string{"show", "inputs 3", "inputs 4", "pin 2 5", "bench 1 b1", "mark 3 high", "restart", "nonsense", "", "marks 2 16", "pin 1 1 1 1", strings.Repeat("y", 200)}
		for range 400 {
			clock += random.Uint64N(1 << uint(10+random.IntN(20)))
			switch random.IntN(8) {
			case 0:
				fmt.Fprintf(&script, "cable %s\n", words[random.IntN(len(words))])
			case 1:
				if random.IntN(10) == 0 {
					fmt.Fprintf(&script, "memory %d %d\n", random.IntN(192), random.IntN(256))
				}
				if random.IntN(5) == 0 {
					script.WriteString("again\n")
				}
			case 2, 3, 4:
				for range random.IntN(90) { // more than there is room for, at times
					fmt.Fprintf(&script, "seen %d %d\n", random.IntN(5), clock&(1<<32-1))
					clock += random.Uint64N(50_000)
				}
			}
			fmt.Fprintf(&script, "clock %d\nstep\n", clock&(1<<32-1))
		}
		boot := uint32(0)
		for _, l := range onHost(t, script.String()) {
			if !l.Checked {
				t.Fatalf("seed %d: a line without a checksum", seed)
			}
			if l.Kind == node.Hello {
				if l.Hello.Boot < boot {
					t.Fatalf("seed %d: start %d comes behind %d", seed, l.Hello.Boot, boot)
				}
				boot = l.Hello.Boot
			}
		}
	}
}

// TestACutWrite: the power goes while the number of the third start is being written over
// that of the first. It was not said yet, so the next start has it.
func TestACutWrite(t *testing.T) {
	const slotOfOdd = 192 + 8
	for cut := range 8 {
		lines := onHost(t, fmt.Sprintf("again\nmemory %d 137\nagain\nagain\n", slotOfOdd+cut))
		if got := boots(output{lines: lines}); !slices.Equal(got, []uint32{1, 2, 3, 4}) {
			t.Errorf("byte %d spoiled: the starts are numbered %v", cut, got)
		}
	}
}
