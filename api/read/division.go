package read

import (
	"slices"

	"benchmeet/api/view"
	"benchmeet/domain/day"
	"benchmeet/domain/programme"
)

// division is what is kept of a division.
type division struct {
	// lines are those of its table by entry, of its head.
	lines map[day.EntryID]line
	head  string
	wide  int64 // the position that the lines were written at
	// table is the text of the lines that were written last.
	table *text
	rows  [][]byte

	at   int64
	body []byte // as the page of the meet has it
}

// line is a line of a table with its JSON.
type line struct {
	standing programme.Standing
	text     []byte
}

func (m *kept) division(id day.DivisionID) *division {
	d := m.divisions[id]
	if d == nil {
		d = &division{lines: map[day.EntryID]line{}}
		m.divisions[id] = d
	}
	return d
}

// standings is a division's table. Of its lines those are written that are not the
// same as before; the names in them hold until an entry may have changed, or how far
// the division is.
func (m *kept) standings(v view.MeetView, d day.Division) *text {
	table := v.Table(d)
	kept := m.division(d.ID)
	table.Head.Standings = nil
	frame := must(assemble(table.Head, list{field: "standings"}))
	again := kept.table != nil
	if head := string(frame.bytes); kept.head != head || v.State.Changed.Entries(d.ID) > kept.wide {
		again = false
		kept.lines, kept.head, kept.wide = make(map[day.EntryID]line, len(table.Lines)), head, v.State.Seq
	}
	texts := make([][]byte, 0, len(table.Lines))
	for _, of := range table.Lines {
		was, there := kept.lines[of.Entry]
		if !there || !was.standing.Equal(of) {
			was = line{of, encode(v.Line(table, of))}
			kept.lines[of.Entry] = was
		}
		texts = append(texts, was.text)
	}
	if !again || !slices.EqualFunc(kept.rows, texts, same) {
		kept.table, kept.rows = must(assemble(table.Head, list{"standings", texts})), texts
	}
	return kept.table
}

// bracket is a division's rounds.
func (m *kept) bracket(v view.MeetView, d day.Division) *text {
	frame, rounds := v.Rounds(d)
	texts := make([][]byte, 0, len(rounds))
	for _, r := range rounds {
		round := v.Round(d, r)
		round.Heats = nil
		heats := make([][]byte, 0, len(r.Heats))
		for _, h := range r.Heats {
			heats = append(heats, m.bracketHeat(v, h))
		}
		texts = append(texts, must(assemble(round, list{"heats", heats})).bytes)
	}
	frame.Rounds = nil
	return must(assemble(frame, list{"rounds", texts}))
}

// meetPage is the meet as a whole.
func (m *kept) meetPage(v view.MeetView) *text {
	var texts [][]byte
	for _, d := range v.State.SortedDivisions() {
		kept := m.division(d.ID)
		if kept.body == nil || v.State.Changed.Division(d.ID) > kept.at {
			m.computed("meet/" + string(d.ID))
			kept.body, kept.at = encode(v.Division(d)), v.State.Seq
		}
		texts = append(texts, kept.body)
	}
	frame := v.MeetAlone()
	frame.Divisions = nil
	return must(assemble(frame, list{"divisions", texts}))
}
