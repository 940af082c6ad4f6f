// Package counterbox_test builds the counter box's program and proves it on an emulated
// board: what goes in at the pins comes out on the line, stamp by stamp.
package counterbox_test

import (
	"bytes"
	"cmp"
	"fmt"
	"os"
	"os/exec"
	"slices"
	"strings"
	"testing"

	"benchmeet/api/node"
)

// The emulated board.
const (
	hz       = 16_000_000 // cycles a second
	perTick  = 8          // cycles of a tick of its clock
	bootTime = hz / 2     // it listens by then
)

func TestMain(m *testing.M) {
	if out, err := exec.Command("make", "-s", "all").CombinedOutput(); err != nil {
		fmt.Fprintf(os.Stderr, "the counter box is not built (make setup installs the compiler and the emulator): %v\n%s", err, out)
		os.Exit(1)
	}
	os.Exit(m.Run())
}

// script is what happens to a board.
type script struct {
	steps []step
}

type step struct {
	at    uint64 // cycle
	order int
	what  string
}

func (s *script) add(at uint64, format string, args ...any) {
	s.steps = append(s.steps, step{at, len(s.steps), fmt.Sprintf(format, args...)})
}

// pass lets a mark go by the sensor of a pin: low for so many cycles.
func (s *script) pass(at uint64, pin int, width uint64) {
	s.add(at, "pin %d 0", pin)
	s.add(at+width, "pin %d 1", pin)
}

func (s *script) text() []byte {
	slices.SortFunc(s.steps, func(a, b step) int { return cmp.Or(cmp.Compare(a.at, b.at), cmp.Compare(a.order, b.order)) })
	var b bytes.Buffer
	for _, e := range s.steps {
		fmt.Fprintf(&b, "%d %s\n", e.at, e.what)
	}
	return b.Bytes()
}

// output is what a board wrote, and what was measured of it.
type output struct {
	lines                          []node.Line
	said                           []string
	cycles, bytes, longest, blinks uint64
}

// play runs the program on the emulated board until the script ends.
func play(t *testing.T, s *script) output {
	t.Helper()
	cmd := exec.Command("build/board", "build/counterbox.elf")
	cmd.Stdin = bytes.NewReader(s.text())
	var stdout, stderr bytes.Buffer
	cmd.Stdout, cmd.Stderr = &stdout, &stderr
	if err := cmd.Run(); err != nil {
		t.Fatalf("the emulated board: %v\n%s", err, stderr.String())
	}
	var out output
	for _, line := range strings.Split(stderr.String(), "\n") {
		if strings.HasPrefix(line, "cycles ") {
			const format = "cycles %d bytes %d longest %d blinks %d"
			if _, err := fmt.Sscanf(line, format, &out.cycles, &out.bytes, &out.longest, &out.blinks); err != nil {
				t.Fatal(err)
			}
		}
	}
	text := stdout.String()
	text = text[:strings.LastIndexByte(text, '\n')+1] // the end cuts a line
	_, text, _ = strings.Cut(text, "box v1")          // and the emulator says words of its own before the first
	for line := range strings.Lines("box v1" + text) {
		l, err := node.ParseLine(strings.TrimSuffix(line, "\n"))
		if err != nil {
			t.Fatalf("the board wrote what the node does not take: %v", err)
		}
		out.lines = append(out.lines, l)
		if l.Kind == node.Say {
			out.said = append(out.said, l.Words)
		}
	}
	return out
}

// passes are the stamps of an input, in ticks, at their counts, which go on beyond the 16
// bits of a line.
func (o output) passes(input int) map[int]uint64 {
	out := map[int]uint64{}
	next := 0
	for _, l := range o.lines {
		if l.Kind != node.Pass || l.Input != input {
			continue
		}
		at, count := l.Ticks, next+int(int16(l.Count-uint16(next)))
		out[count] = at
		for _, step := range l.Steps {
			at, count = at+step, count+1
			out[count] = at
		}
		next = count + 1
	}
	return out
}

// spread is how far the stamps of an input lie apart from the edges that went in, in
// cycles: the difference of the latest and the earliest. All must be there.
func (o output) spread(t *testing.T, input int, edges []uint64) uint64 {
	t.Helper()
	got := o.passes(input)
	if len(got) != len(edges) {
		t.Fatalf("input %d: %d passes came out, %d went in%s", input, len(got), len(edges), firstGap(got, edges))
	}
	var least, most int64
	for i, edge := range edges {
		stamp, there := got[i]
		if !there {
			t.Fatalf("input %d: pass %d is missing", input, i)
		}
		late := int64(stamp*perTick) - int64(edge)
		if i == 0 || late < least {
			least = late
		}
		if i == 0 || late > most {
			most = late
		}
	}
	return uint64(most - least)
}

// firstGap names the first pass whose interval is not that of its edges.
func firstGap(got map[int]uint64, edges []uint64) string {
	for i := 1; i < len(edges); i++ {
		a, there := got[i-1]
		b, too := got[i]
		went := int64(edges[i] - edges[i-1])
		if !there || !too || int64((b-a)*perTick)-went > hz/10000 || went-int64((b-a)*perTick) > hz/10000 {
			return fmt.Sprintf("; the first that differs is %d, at cycle %d", i, edges[i])
		}
	}
	return ""
}
