package meet_test

import (
	"fmt"

	"benchmeet/domain/programme"
)

func init() { verbs["stages"] = (*toldDay).tellStages }

// tellStages tells a table with each stage apart: runs by round, what was taken off
// them, and the corrections where they belong; then whether it is as published.
func (d *toldDay) tellStages() {
	for _, l := range programme.Standings(d.s, d.division()) {
		d.say("%d %s%s", l.Rank, d.hash(l.Entry), numbersOf(l.Corrections))
		for _, of := range append([]programme.Standing{l}, l.Earlier...) {
			text := fmt.Sprintf("  stage %d, rank %d:", of.Stage, of.Rank)
			for _, r := range of.Runs {
				text += fmt.Sprintf(" %d) %s", r.Round, metres(r.DistanceUM))
				if r.PenaltyUM > 0 {
					text += " less " + metres(r.PenaltyUM)
				}
				text += numbersOf(r.Corrections)
			}
			d.say("%s", text)
		}
	}
	d.say("changed since published: %v", programme.PublishedIsOld(d.s, d.division()))
}

func numbersOf(of []programme.Correction) string {
	text := ""
	for _, c := range of {
		text += fmt.Sprintf(" (correction %d at %s)", c.Number, clock(c.AtUS))
	}
	return text
}
