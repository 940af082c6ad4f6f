package meet_test

import (
	"fmt"
	"strconv"
	"strings"

	"benchmeet/domain/day"
	"benchmeet/domain/meet"
	"benchmeet/domain/programme"
)

func init() {
	verbs["notes"] = (*toldDay).notes
	verbs["seed-order"] = (*toldDay).seedOrder
	verbs["seeding"] = (*toldDay).seeding
	verbs["merge"] = func(d *toldDay) {
		c := meet.MergeDivisions{Into: d.division()}
		for _, arg := range d.td.CmdArgs[1:] {
			c.From = append(c.From, day.DivisionID(arg.Key))
		}
		d.do(c)
	}
	verbs["split"] = func(d *toldDay) { d.do(meet.SplitDivision{Division: d.division()}) }
	verbs["preview"] = (*toldDay).preview
}

// notes tells what the draws of a division could not do, or did on purpose.
func (d *toldDay) notes() {
	for _, n := range programme.DrawNotes(d.s, d.division()) {
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

func init() { goldenDays = append(goldenDays, "clubs", "seeds", "merged", "promise") }

// seedOrder gives a seed order: "seed-order junior hand 3 1-2", "… rating 3:1600
// 1:1500", "… lot" or "… rank".
func (d *toldDay) seedOrder() { d.do(meet.SeedDivision{Division: d.division(), SeedOrder: d.order()}) }

// order reads a seed order behind the first argument.
func (d *toldDay) order() programme.SeedOrder {
	if len(d.td.CmdArgs) < 2 {
		d.t.Fatalf("%s: in which order?", d.td.Pos)
	}
	o := programme.SeedOrder{Method: day.SeedMethod(d.td.CmdArgs[1].Key)}
	for _, arg := range d.td.CmdArgs[2:] {
		number, rating, rated := strings.Cut(arg.Key, ":")
		if rated {
			o.Ratings = append(o.Ratings, day.Rated{Entry: d.entryOf(d.number(number)), Rating: int64(d.number(rating)) * 1000})
			continue
		}
		from, to, several := strings.Cut(arg.Key, "-")
		if !several {
			to = from
		}
		for n := d.number(from); n <= d.number(to); n++ {
			o.Order = append(o.Order, d.entryOf(n))
		}
	}
	return o
}

// entryOf is the entry of a start number, or what it would be called.
func (d *toldDay) entryOf(n int) day.EntryID {
	if id, there := d.s.Numbers[n]; there {
		return id
	}
	return day.EntryID("e" + strconv.Itoa(n))
}

// seeding tells how the next stage is seeded.
func (d *toldDay) seeding() {
	s, _ := programme.SeedingOf(d.s, d.division())
	text := fmt.Sprintf("stage %d, usual %s", s.Stage, s.Usual)
	if s.Fixed {
		text += ", given by " + string(s.Method)
	}
	if s.Dealt {
		text += ", dealt by lot"
	}
	if !s.Open {
		text += ", drawn"
	}
	d.say("%s", text)
	for _, l := range s.Lines {
		text := d.hash(l.Entry)
		if l.Rank > 0 {
			text += fmt.Sprintf(" rank %d", l.Rank)
		}
		if l.ByLot {
			text += " by lot"
		}
		if l.Late {
			text += " late"
		}
		d.say("%s", text)
	}
	if len(s.Gone) > 0 {
		d.say("gone %s", d.numbers(s.Gone))
	}
}

// preview tells who would meet whom if the entries named were seeded in this
// order: "preview junior hand 3 1".
func (d *toldDay) preview() {
	p, err := programme.PreviewSeeds(d.s, d.division(), d.order().Order)
	if err != nil {
		d.say("refused %s", err)
		return
	}
	var all []string
	for _, h := range p.Heats {
		text := d.someNumbers(h.Entries)
		if h.Group != "" {
			text = h.Group + " " + text
		}
		all = append(all, text)
	}
	d.say("stage %d: %s byes: %s", p.Stage, strings.Join(all, " | "), d.someNumbers(p.Byes))
}

func (d *toldDay) someNumbers(entries []day.EntryID) string {
	var all []string
	for _, id := range entries {
		if id == "" {
			all = append(all, "lot")
			continue
		}
		all = append(all, d.hash(id))
	}
	return strings.Join(all, " ")
}
