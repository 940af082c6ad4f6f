package main

import (
	"fmt"
	"strings"
	"testing"

	"benchmeet/domain/signal"
	"benchmeet/domain/simulate"
)

// lookAt gives what a box wrote to "node --check".
func lookAt(t *testing.T, lines string, args ...string) (string, error) {
	t.Helper()
	cmd := newNodeCommand()
	var out, log strings.Builder
	cmd.SetIn(strings.NewReader(lines))
	cmd.SetOut(&out)
	cmd.SetErr(&log)
	cmd.SetArgs(append([]string{"--check"}, args...))
	cmd.SilenceUsage, cmd.SilenceErrors = true, true
	err := cmd.Execute()
	return out.String(), err
}

// wroteBy is what the simplest box writes of a run.
func wroteBy(change func(*simulate.Params)) string {
	p := simulate.Usual(9, 6000, 12)
	change(&p)
	var b strings.Builder
	var last int64
	for _, us := range simulate.Run(p).Stamps {
		fmt.Fprintln(&b, us)
		last = us
	}
	// While nothing turns the box tells its clock each second.
	for last += 1_000_000; last < 14_500_000; last += 1_000_000 {
		fmt.Fprintln(&b, "now", last)
	}
	return b.String()
}

// TestCheckSignal: in words, with one thing to do, and with an answer for scripts.
func TestCheckSignal(t *testing.T) {
	tests := []struct {
		name, lines string
		args        []string
		says        []string
		good        bool
	}{
		{"good", wroteBy(func(*simulate.Params) {}), nil, []string{"GOOD.", "1 marks a turn", "thin line"}, true},
		{"unseen", wroteBy(func(p *simulate.Params) { p.MissRate = 0.1 }), nil, []string{"NOT GOOD. Marks go by unseen.", "Clean the mark"}, false},
		{"a lamp", wroteBy(func(p *simulate.Params) { p.FlickerHz = 120 }), nil, []string{"NOT GOOD. The sensor sees a lamp"}, false},
		{"pulled", wroteBy(func(p *simulate.Params) { p.FailAtS = 5 }), nil, []string{"NOT GOOD. The signal stopped", "Check cable"}, false},
		{
			"a spoiled line", "spoiled\n" + wroteBy(func(*simulate.Params) {}), nil,
			[]string{"NOT GOOD. The mark is seen well", "check cable and plug"},
			false,
		},
		{"nothing turns", "now 1000000\nnow 2000000\n", nil, []string{"NOT GOOD. No mark was seen."}, false},
		{"two stated, one there", wroteBy(func(p *simulate.Params) { p.MarkAngles, p.Marks = []float64{0, 130}, 2 }), nil, []string{"NOT GOOD. There are not as many marks"}, false},
		{
			"two stated, two there", wroteBy(func(p *simulate.Params) { p.MarkAngles, p.Marks = []float64{0, 130}, 2 }),
			[]string{"--marks", "2"},
			[]string{"GOOD.", "2 marks a turn, at 0°"},
			true,
		},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			out, err := lookAt(t, tt.lines, tt.args...)
			if good := err == nil; good != tt.good {
				t.Errorf("good is %v: %v", good, err)
			}
			for _, want := range tt.says {
				if !strings.Contains(out, want) {
					t.Errorf("%q is not said in\n%s", want, out)
				}
			}
			if !strings.HasPrefix(out, "GOOD.") && !strings.HasPrefix(out, "NOT GOOD.") {
				t.Errorf("it begins %.40q", out)
			}
		})
	}
	if _, err := lookAt(t, ""); err == nil || !strings.Contains(err.Error(), "no line came") {
		t.Errorf("a box that says nothing: %v", err)
	}
	if _, err := lookAt(t, "", "--marks", "0"); err == nil || !strings.Contains(err.Error(), "--marks is 1 to 16") {
		t.Errorf("no marks: %v", err)
	}
}

// TestEveryFaultHasAdvice: whoever adds a fault says what to do about it.
func TestEveryFaultHasAdvice(t *testing.T) {
	for _, f := range []signal.Fault{
		signal.Silent, signal.TooShort, signal.Lamp, signal.Echo, signal.Missed, signal.Stray, signal.Bursts,
		signal.Marks, signal.Unsteady, signal.Breaks,
	} {
		if a := advice[f]; a[0] == "" || a[1] == "" {
			t.Errorf("%s: %q", f, a)
		}
	}
}
