package main

import (
	"context"
	"errors"
	"strings"
	"testing"
	"time"

	"benchmeet/api/node"
)

// TestFindBox: the port that comes is the box, not one that was there or goes.
func TestFindBox(t *testing.T) {
	seen := [][]string{
		{"/dev/ttyS0", "/dev/ttyUSB3"},
		{"/dev/ttyS0", "/dev/ttyUSB3"},
		{"/dev/ttyS0"},
		{"/dev/ttyUSB3", "/dev/ttyS0"},
	}
	turn := 0
	ports := func() ([]string, error) {
		turn++
		return seen[min(turn, len(seen))-1], nil
	}
	var out strings.Builder
	err := findBox(t.Context(), &out, ports, time.Millisecond)
	if err != nil || !strings.HasSuffix(out.String(), "Found: --serial /dev/ttyUSB3\n") {
		t.Errorf("it says %q (%v)", out.String(), err)
	}
	ctx, cancel := context.WithTimeout(t.Context(), 20*time.Millisecond)
	defer cancel()
	err = findBox(ctx, &out, func() ([]string, error) { return []string{"/dev/ttyS0"}, nil }, time.Millisecond)
	if err == nil || !strings.Contains(err.Error(), "does its cable carry data") {
		t.Errorf("nothing is plugged in: %v", err)
	}
	broken := errors.New("no")
	if err := findBox(t.Context(), &out, func() ([]string, error) { return nil, broken }, time.Millisecond); !errors.Is(err, broken) {
		t.Errorf("no list of ports: %v", err)
	}
}

// TestTurned: passes by the box's own count, so that a lost line takes none away; of a box
// that does not count, as they come; each input for itself.
func TestTurned(t *testing.T) {
	seen := turned{}
	for _, text := range []string{
		"now 65530@1000", "65530@2000+10+10", "2:7@3000", "65535@4000+5", // 65533 and 65534 were lost
		"2:now 8@5000", "now 3@6000",
	} {
		l, err := node.ParseLine(text)
		if err != nil {
			t.Fatal(err)
		}
		seen.take(l)
	}
	if got, want := seen.told(1), "Input 1: 9 marks counted, 9 turns.\nInput 2: 1 marks counted, 1 turn."; got != want {
		t.Errorf("it says %q, want %q", got, want)
	}
	if got := seen.told(2); !strings.Contains(got, "no whole number of turns of 2 marks") {
		t.Errorf("nine passes of two marks: %q", got)
	}
	plain := turned{}
	for _, text := range []string{"100", "200", "now 300", "400"} {
		l, err := node.ParseLine(text)
		if err != nil {
			t.Fatal(err)
		}
		plain.take(l)
	}
	if got := plain.told(3); got != "Input 1: 3 marks counted, 1 turn." {
		t.Errorf("of plain numbers it says %q", got)
	}
}

// TestCircumferenceOfCount: 1885 mm in 20 turns are 94.25 mm, within 2 mm 0.058 mm (JCGM
// 100:2008, 4.3.7: 2 mm / (20 · √3)); what is not whole turns of one roller gives nothing.
func TestCircumferenceOfCount(t *testing.T) {
	counted := func(marks ...int) turned {
		seen := turned{}
		for i, n := range marks {
			seen[i+1] = &turnedInput{counted: n}
		}
		return seen
	}
	tests := []struct {
		name   string
		seen   turned
		marks  int
		rolled float64
		says   []string
	}{
		{"nothing was measured", counted(20), 1, 0, nil},
		{"twenty turns", counted(20, 0), 1, 1885, []string{
			"1885 mm / 20 = 94.250 mm", "2 mm / (20 * 1.732) = 0.058 mm", "rolled, 20 turns, 1885 mm, within 2 mm",
		}},
		{"two marks a turn", counted(40), 2, 1885, []string{"1885 mm / 20 = 94.250 mm"}},
		{"half a turn too much", counted(41), 2, 1885, []string{"no circumference"}},
		{"two rollers", counted(20, 1), 1, 1885, []string{"no circumference"}},
		{"none", counted(0), 1, 1885, []string{"no circumference"}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			got := tt.seen.circumference(nodeSettings{marks: tt.marks, rolled: tt.rolled, within: 2})
			if (got == "") != (tt.says == nil) {
				t.Errorf("it says %q", got)
			}
			for _, want := range tt.says {
				if !strings.Contains(got, want) {
					t.Errorf("%q is not said in %q", want, got)
				}
			}
		})
	}
	for _, args := range [][]string{{"--rolled", "-5"}, {"--rolled", "5", "--within", "0"}, {"--rolled", "5", "--within", "6"}} {
		cmd := newNodeCommand()
		cmd.SetArgs(append([]string{"--count", "--serial", "/dev/null"}, args...))
		cmd.SilenceUsage, cmd.SilenceErrors = true, true
		if err := cmd.Execute(); err == nil || !strings.Contains(err.Error(), "--within by how much") {
			t.Errorf("%v: %v", args, err)
		}
	}
}
