package meet_test

import "fmt"

func init() {
	verbs["notes"] = (*day).notes
}

// notes tells what the draws of a division could not do, or did on purpose.
func (d *day) notes() {
	for _, n := range d.s.DrawNotes(d.division()) {
		text := fmt.Sprintf("stage %d %s: %s", n.Stage, n.Code, d.numbers(n.Entries))
		if n.Round > 0 {
			text += fmt.Sprintf(" in round %d", n.Round)
		}
		if n.Group != "" {
			text += " in group " + n.Group
		}
		d.say("%s", text)
	}
	if d.out.Len() == 0 {
		d.say("no notes")
	}
}

func init() { goldenDays = append(goldenDays, "clubs") }
