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
