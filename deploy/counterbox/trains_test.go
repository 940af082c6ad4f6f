package counterbox_test

import (
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"benchmeet/api/node"
)

// TestTrains: rollers from 60 to 25,000 turns a minute on one to four inputs, with sensors
// that see a mark twice and with bursts of five edges, and with marks just wide enough.
// Every edge is stamped: what is genuine is for the server to say.
func TestTrains(t *testing.T) {
	for inputs := 1; inputs <= 4; inputs++ {
		random := rand.New(rand.NewPCG(2, uint64(inputs)))
		s := &script{}
		ready := fast(s, inputs)
		at := float64(ready)
		edges := make([][]uint64, inputs)
		for _, rpm := range []float64{60, 600, 6000, quickest, 900} {
			until := at + max(hz/2, 3*60/rpm*hz)
			for i := range inputs {
				edges[i] = append(edges[i], train(random, uint64(at), uint64(until-hz/100), rpm, 1)...)
			}
			at = until
		}
		for i := range edges {
			for k, first := range edges[i] {
				again := 0
				switch {
				case k%7 == 3:
					again = 1
				case k%31 == 5:
					again = 4
				}
				const width, gap = pulseCycles, pulseCycles // a mark and the gap behind it, as short as may be
				s.pass(first, i, width)
				for n := range again {
					next := first + uint64(n+1)*(width+gap)
					s.pass(next, i, width)
					edges[i] = append(edges[i], next)
				}
			}
			slices.Sort(edges[i])
		}
		s.add(uint64(at)+hz/2, "end")
		out := play(t, s)
		for i := range edges {
			if spread := out.spread(t, i+1, edges[i]); spread > boundCycles {
				t.Errorf("%d inputs: stamps of input %d lie %d cycles apart from their edges, more than %d", inputs, i+1, spread, boundCycles)
			}
		}
	}
}

// TestTooMuchForTheLine: four fast rollers with four marks at the usual speed of the line.
// What is lost is known to the pass from the counts, what comes is stamped right, and the
// box says so in words.
func TestTooMuchForTheLine(t *testing.T) {
	random := rand.New(rand.NewPCG(3, 3))
	s := &script{}
	s.add(bootTime, "cable inputs 4")
	from, until := uint64(bootTime+2*hz), uint64(bootTime+5*hz)
	edges := make([][]uint64, 4)
	for i := range edges {
		edges[i] = train(random, from, until, quickest, 4)
		for _, at := range edges[i] {
			s.pass(at, i, 1600)
		}
	}
	s.add(until+2*hz, "end")
	out := play(t, s)
	lost := 0
	for i := range edges {
		got := out.passes(i + 1)
		lost += len(edges[i]) - len(got)
		var first int
		for first = 0; got[first] == 0; first++ {
		}
		for count, stamp := range got {
			went := int64(edges[i][count]) - int64(edges[i][first])
			came := (int64(stamp) - int64(got[first])) * perTick
			if d := came - went; d > boundCycles || d < -boundCycles {
				t.Fatalf("input %d: pass %d lies %d cycles off", i+1, count, d)
			}
		}
		if n, told := lastCount(out, i+1); !told || int(n) != len(edges[i]) {
			t.Errorf("input %d: %d passes went in, the box counts %d", i+1, len(edges[i]), n)
		}
	}
	if lost < 1000 {
		t.Errorf("only %d passes were lost: the train is no test of losses", lost)
	}
	if !slices.ContainsFunc(out.said, func(w string) bool { return strings.Contains(w, "no room") }) {
		t.Errorf("nothing is said of the losses: %q", out.said)
	}
}

// lastCount is the count in the last word on the clock.
func lastCount(o output, input int) (n uint16, told bool) {
	for _, l := range o.lines {
		if l.Kind == node.Now && l.Input == input {
			n, told = l.Count, true
		}
	}
	return n, told
}

// boots are the numbers of the starts, in their order, without repetitions.
func boots(o output) []uint32 {
	var out []uint32
	for _, l := range o.lines {
		if l.Kind == node.Hello && !slices.Contains(out, l.Hello.Boot) {
			out = append(out, l.Hello.Boot)
		}
	}
	return out
}

// TestStarts: each start has a number of its own, one more than the last, whatever became
// of the working memory; why it started is said; what was set stays.
func TestStarts(t *testing.T) {
	s := &script{}
	s.add(bootTime, "cable inputs 2")
	at := uint64(bootTime + 2*hz)
	s.add(at, "cable bench 2 b7")
	for _, how := range []string{"power", "low", "hang", "power"} {
		at += 2 * hz
		s.pass(at-hz/2, 1, 1600)
		s.add(at, "%s", how)
	}
	s.add(at+2*hz, "cable show")
	s.pass(at+3*hz, 1, 1600)
	s.add(at+5*hz, "end")
	out := play(t, s)
	if got := boots(out); !slices.Equal(got, []uint32{1, 2, 3, 4, 5, 6}) {
		t.Errorf("the starts are numbered %v", got)
	}
	var why []string
	for _, words := range out.said {
		if cause, is := strings.CutPrefix(words, "started: "); is {
			why = append(why, cause)
		}
	}
	// The second is the one that a setting asked for.
	if want := []string{"power", "watchdog", "power", "low supply", "watchdog", "power"}; !slices.Equal(why, want) {
		t.Errorf("the board says that it started by %q, want %q", why, want)
	}
	if !slices.Contains(out.said, "input 2: pin 1, a mark is low, marks 1, bench b7") {
		t.Errorf("what was set is not there any more: %q", out.said)
	}
	if n, _ := lastCount(out, 2); n != 1 {
		t.Errorf("after the last start %d passes are counted at input 2, 1 was there", n)
	}
}

// TestSettings: what may be set, and what is refused and changes nothing.
func TestSettings(t *testing.T) {
	s := &script{}
	at := uint64(bootTime)
	say := func(words string) {
		s.add(at, "cable %s", words)
		at += hz
	}
	say("pin 1 3")
	say("mark 1 high")
	for _, wrong := range []string{
		"pin 1 6", "pin 5 1", "pin 1", "mark 1 up", "inputs 5", "inputs 0", "baud 9600", "bench 1 A_B",
		"bench 1 abcdefghijklm", "marks 1 17", "frobnicate", "inputs 99999999999999999999", strings.Repeat("x", 100),
	} {
		say(wrong)
	}
	say("marks 1 4")
	say("show")
	// A mark is high now, on pin 3.
	s.add(at, "pin 3 0")
	s.add(at+hz/2, "pin 3 1")
	s.add(at+hz/2+1600, "pin 3 0")
	s.pass(at+hz, 0, 1600) // nobody's pin
	s.add(at+3*hz, "end")
	out := play(t, s)
	if !slices.Contains(out.said, "input 1: pin 3, a mark is high, marks 4") || !slices.Contains(out.said, "inputs 1, baud 115200") {
		t.Errorf("what was set is not what is said: %q", out.said)
	}
	refused := 0
	for _, words := range out.said {
		if strings.HasPrefix(words, "not understood") {
			refused++
		}
	}
	if refused != 12 { // a line that is too long is passed over
		t.Errorf("%d lines were refused, 12 are wrong", refused)
	}
	if got := out.passes(1); len(got) != 1 && len(got) != 2 {
		t.Errorf("%d passes came from the pin", len(got))
	}
}

// TestStartAndLamp: the start signal has the board's own stamp, and the lamp blinks at each
// mark that goes by slowly.
func TestStartAndLamp(t *testing.T) {
	s := &script{}
	press := uint64(2 * hz)
	s.add(press, "start 0")
	for n := range uint64(5) { // the button chatters
		s.add(press+4000+n*8000, "start %d", (n+1)%2)
	}
	s.add(press+hz/4, "start 1")
	const slow = 20
	for n := range uint64(slow) { // a hand turns the roller
		s.pass(press+hz+n*hz/4, 0, hz/50)
	}
	s.add(press+(slow/4+3)*hz, "end")
	out := play(t, s)
	var starts []uint64
	for _, l := range out.lines {
		if l.Kind == node.Start {
			starts = append(starts, l.Ticks)
		}
	}
	first := out.passes(1)[0]
	if len(starts) != 1 {
		t.Fatalf("%d start signals, one was given", len(starts))
	}
	if d := int64(first-starts[0])*perTick - hz; d > boundCycles || d < -boundCycles {
		t.Errorf("the first pass comes one second behind the start and is stamped %d cycles off", d)
	}
	if out.blinks != slow+1 {
		t.Errorf("the lamp blinked %d times for %d marks and a start", out.blinks, slow)
	}
}
