package meet_test

import (
	"slices"
	"testing"

	"benchmeet/domain/day"
	"benchmeet/domain/meet"
)

func init() {
	verbs["put-away"] = func(d *toldDay) {
		d.do(meet.PutAway{Division: day.DivisionID(d.text("division", "")), Entry: d.named()})
	}
	verbs["bring-back"] = func(d *toldDay) {
		d.do(meet.BringBack{Division: day.DivisionID(d.text("division", "")), Entry: d.named()})
	}
	verbs["enter"] = func(d *toldDay) { // junior id=e9 n=3: somebody else with that number
		id := d.text("id", "")
		d.do(meet.TakeEntry{
			ID: day.EntryID(id), Division: d.division(), StartNumber: d.whole("n", 0), Entrant: day.EntrantID("p" + id), Car: "c9", Age: 9,
		})
	}
	verbs["there"] = (*toldDay).there
}

// named is the entry of n=7, if one is named.
func (d *toldDay) named() day.EntryID {
	if id := d.text("n", ""); id != "" {
		return day.EntryID("e" + id)
	}
	return ""
}

// there tells the divisions with their entries, and what was put away.
func (d *toldDay) there() {
	for _, v := range d.s.SortedDivisions() {
		text := string(v.ID) + ":"
		for _, e := range d.s.SortedEntries(v.ID) {
			text += " " + d.hash(e.ID)
			if d.s.Numbers[e.StartNumber] != e.ID {
				text += " without its number"
			}
		}
		d.say("%s", text)
	}
	var away []string
	for id, v := range d.s.Away.Divisions {
		text := "division " + string(id) + " with"
		for _, e := range v.Entries {
			text += " " + string(e.ID)
		}
		away = append(away, text)
	}
	for id := range d.s.Away.Entries {
		away = append(away, "entry "+string(id))
	}
	if d.s.Away.Meet {
		away = append(away, "the meet")
	}
	slices.Sort(away)
	for _, text := range away {
		d.say("away: %s", text)
	}
}

// A box that was cut off sends its run when the meet is put away already: it is kept.
func TestRunsComeIntoAMeetThatIsPutAway(t *testing.T) {
	away := given(t, closed, drawn, day.PutAway{})
	events, err := meet.Decide(away, meet.RecordRun{ID: "junior-1.1.1-L1-1", Bench: "b1", Boot: "x", Trace: "y"}, meet.Meta{NowUS: 1})
	if err != nil || len(events) != 1 || events[0].Type() != "RunRecorded" {
		t.Errorf("got %v, %v; want the run recorded", events, err)
	}
}
