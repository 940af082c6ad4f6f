package wire

import (
	"strings"

	"benchmeet/api/gen"
	"benchmeet/api/store"
	"benchmeet/domain/entrytable"
)

// ReadTable reads heads with rows as a page has them.
func ReadTable(heads []string, rows []gen.EntryTableRow) entrytable.Table {
	t := entrytable.Table{HeadLine: 1, Heads: heads}
	for _, r := range rows {
		t.Rows = append(t.Rows, entrytable.Row{Line: r.Line, Cells: r.Cells})
	}
	return t
}

// ShowTable shows a table as it would be taken.
func ShowTable(heads []string, l entrytable.Looked, charset entrytable.Charset) gen.EntryTable {
	out := gen.EntryTable{
		Columns: []gen.EntryTableColumn{}, Rows: []gen.EntryTableLine{}, Charset: gen.EntryTableCharset(charset),
		Faults: ShowFaults(l.Faults), Notes: ShowFaults(l.Notes),
	}
	for i, c := range l.Columns {
		out.Columns = append(out.Columns, gen.EntryTableColumn{Head: strings.TrimSpace(heads[i]), Means: gen.EntryTableColumnMeans(c)})
	}
	for _, r := range l.Rows {
		line := gen.EntryTableLine{Line: r.Line, Cells: r.Cells, Faults: ShowFaults(r.Faults), StartNumber: Opt(r.Entry.Number)}
		if len(r.Faults) == 0 {
			line.Entry = showTableEntry(r)
		}
		out.Rows = append(out.Rows, line)
	}
	return out
}

func showTableEntry(r entrytable.LookedRow) *gen.EntryTableEntry {
	e := r.Entry
	out := &gen.EntryTableEntry{
		StartNumber: e.Number, Division: string(r.Take.Division), Name: e.Name, DisplayName: e.Nickname, SayAs: Opt(e.SayAs),
		BirthDate: Opt(e.Birth), Club: Opt(e.Club), OnScreen: e.OnScreen, InResults: e.InResults, Photo: e.Photo,
		RacesUp: r.Races.RacesUp, Late: r.Races.Late, Known: r.Known,
	}
	if r.Take.Age >= 0 {
		out.Age = &r.Take.Age
	}
	return out
}

// ShowFaults shows mistakes of a table with their places.
func ShowFaults(list []entrytable.Fault) []gen.EntryTableFault {
	out := []gen.EntryTableFault{}
	for _, f := range list {
		line := gen.EntryTableFault{Line: f.Line, Column: f.Column, Code: string(f.Why.Code), Says: f.Why.Error()}
		if len(f.Why.Args) > 0 {
			args := f.Why.Values()
			line.Args = &args
		}
		out = append(out, line)
	}
	return out
}

// ReadTablePerson writes what a row says over what is known of a person; what has no
// column stays as it is.
func ReadTablePerson(p store.Person, columns []entrytable.Column, e entrytable.Entry) store.Person {
	p.Name = e.Name
	for _, c := range columns {
		switch c {
		case entrytable.Nickname:
			p.DisplayName = e.Nickname
		case entrytable.SayAs:
			p.SayAs = e.SayAs
		case entrytable.Birth:
			p.BirthDate = e.Birth
		case entrytable.OnScreen:
			p.OnScreen = e.OnScreen
		case entrytable.InResults:
			p.InResults = e.InResults
		case entrytable.Photo:
			p.Photo = e.Photo
		case entrytable.Consents:
			p.OnScreen, p.InResults, p.Photo = e.OnScreen, e.InResults, e.Photo
		}
	}
	return p
}
