package meet_test

import (
	"fmt"

	"benchmeet/domain/board"
	"benchmeet/domain/day"
	"benchmeet/domain/fairness"
)

func init() {
	verbs["advice"] = (*toldDay).advice
}

// advice [noisy=b1 high=b2 suspect=RUN]: the decisions with what a comparison of
// the benches says, and the grounds of each in words.
func (d *toldDay) advice() {
	known := board.Compared{Verdicts: map[day.BenchID]fairness.Verdict{}, Suspects: map[day.RunID]bool{}}
	known.Verdicts[day.BenchID(d.text("noisy", ""))] = fairness.Noisy
	known.Verdicts[day.BenchID(d.text("high", ""))] = fairness.ReadsHigh
	known.Suspects[day.RunID(d.text("suspect", ""))] = true
	for _, x := range board.TasksKnowing(d.s, d.now, known) {
		if x.Suggest == fairness.Nothing {
			continue
		}
		d.say("%s %s %s%s", x.Kind, x.Heat, x.Run, toldAdvice(x))
		for _, f := range x.Flags {
			d.say("  %s", f.Says())
		}
		for _, n := range x.Why {
			d.say("  %s", n.Says())
		}
	}
	if d.out.Len() == 0 {
		d.say("no advice")
	}
}

// toldAdvice tells what is suggested, and what would prefill the ruling.
func toldAdvice(x board.Task) string {
	if x.Suggest == fairness.Nothing {
		return ""
	}
	text := fmt.Sprintf(", suggests %s: %s", x.Suggest, x.Reason)
	if x.Counts != "" {
		text += ", " + string(x.Counts) + " counts"
	}
	if x.AtLimit {
		text += ", at the limit"
	}
	return text
}
