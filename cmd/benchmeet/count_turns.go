package main

import (
	"context"
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"benchmeet/api/node"
	"benchmeet/domain/roller"
)

// How long somebody has to begin to turn, and how long a roller is still when it is done.
const (
	turnsBegin = time.Minute
	turnsDone  = 5 * time.Second
)

// turned counts the passes of each input since the first line of it.
type turned map[int]*turnedInput

type turnedInput struct {
	from    uint16 // the box's own count when it was first heard
	known   bool
	counted int
}

// take counts a line in; more says that the input's count went up.
func (t turned) take(l node.Line) (more bool) {
	if l.Kind != node.Pass && l.Kind != node.Now {
		return false
	}
	in := t[l.Input]
	if in == nil {
		in = &turnedInput{}
		t[l.Input] = in
	}
	before := in.counted
	switch {
	case l.Counted:
		if !in.known {
			in.known, in.from = true, l.Count
		}
		end := l.Count
		if l.Kind == node.Pass {
			end += uint16(1 + len(l.Steps))
		}
		in.counted = int(end - in.from) // what was lost on the way is in the box's count
	case l.Kind == node.Pass:
		in.counted += 1 + len(l.Steps)
	}
	return in.counted > before
}

// countTurns says which sensor is turned by hand and how often, until the rollers are
// still.
func countTurns(cmd *cobra.Command, o nodeSettings) error {
	if o.marks < 1 || o.marks > 16 {
		return errors.New("--marks is 1 to 16: how many marks the roller has")
	}
	if o.rolled != 0 && (o.rolled < 1 || o.rolled > 200_000 || o.within < 0.001 || o.within > o.rolled) {
		return errors.New("--rolled is the way of all turns together along a tape, 1 to 200000 mm, " +
			"and --within by how much it may be off, at least 0.001 mm")
	}
	ctx, cancel := context.WithCancel(cmd.Context())
	defer cancel()
	cable, greeting, err := o.greeted(ctx)
	if err != nil {
		return err
	}
	defer cable.line.Close()
	if err := sayTo(cmd, "Draw a pencil mark, and turn one roller slowly by hand: 20 turns. Keep it still when you are done."); err != nil {
		return err
	}
	seen := turned{}
	begun := false
	for until := time.Now().Add(turnsBegin); ; {
		l, in, err := cable.next(ctx, time.Until(until))
		switch {
		case err != nil:
			return err
		case !in && !begun:
			return errors.New("no mark was seen: does the box's lamp blink at the mark? If not, move the sensor nearer")
		case !in:
			return sayTo(cmd, "%s", seen.told(o.marks)+seen.circumference(o))
		case l.Kind == node.Hello && l.Hello.Boot != greeting.Boot:
			return errors.New("the counter box started again meanwhile: check its supply, and count once more")
		case seen.take(l):
			begun, until = true, time.Now().Add(turnsDone)
			if err := sayTo(cmd, "this is input %d: %d", l.Input, seen[l.Input].counted); err != nil {
				return err
			}
		}
	}
}

// told is what was counted at each input that was turned.
func (t turned) told(marks int) string {
	var inputs []int
	for input, in := range t {
		if in.counted > 0 {
			inputs = append(inputs, input)
		}
	}
	slices.Sort(inputs)
	var b strings.Builder
	for _, input := range inputs {
		n := t[input].counted
		fmt.Fprintf(&b, "Input %d: %d marks counted", input, n)
		switch {
		case n%marks != 0:
			fmt.Fprintf(&b, ", which is no whole number of turns of %d marks", marks)
		case n/marks == 1:
			b.WriteString(", 1 turn")
		default:
			fmt.Fprintf(&b, ", %d turns", n/marks)
		}
		b.WriteString(".\n")
	}
	return strings.TrimSpace(b.String())
}

// circumference is what follows of the way on the tape, where one was given and one roller
// alone made whole turns.
func (t turned) circumference(o nodeSettings) string {
	if o.rolled == 0 {
		return ""
	}
	counted, rollers := 0, 0
	for _, in := range t {
		if in.counted > 0 {
			counted, rollers = in.counted, rollers+1
		}
	}
	turns := counted / o.marks
	if rollers != 1 || turns < 1 || turns > roller.MostTurns || counted%o.marks != 0 {
		return "\nThat gives no circumference: roll one roller alone, by whole turns, and count once more."
	}
	measured := roller.Rolled{Turns: turns, LengthUM: int64(math.Round(o.rolled * 1000)), WithinUM: int64(math.Round(o.within * 1000))}
	um, u := measured.Circumference()
	return fmt.Sprintf("\nCircumference: %g mm / %d = %.3f mm, standard uncertainty %g mm / (%[2]d * 1.732) = %.3[5]f mm.\n"+
		"At the desk, under Benches: rolled, %[2]d turns, %[1]g mm, within %[4]g mm.",
		o.rolled, turns, float64(um)/1000, o.within, float64(u)/1000)
}
