package rest

import (
	"context"

	"benchmeet/api/gen"
	"benchmeet/api/store"
	"benchmeet/api/view"
	"benchmeet/api/wire"
	"benchmeet/domain/day"
	"benchmeet/domain/entrytable"
	"benchmeet/domain/meet"
	"benchmeet/domain/refusal"
)

// entryTables takes entries from tables and gives them out as such.
type entryTables struct {
	orders
	kept store.People
}

// sheetRead is a table as it came, with the people whom the club knows.
type sheetRead struct {
	table   entrytable.Table
	charset entrytable.Charset
	text    string
	faults  []entrytable.Fault
	people  map[day.EntrantID]store.Person
	looked  entrytable.Looked
}

// LookEntryTable says how a table would be taken.
func (s entryTables) LookEntryTable(ctx context.Context, r gen.LookEntryTableRequestObject) (gen.LookEntryTableResponseObject, error) {
	v, err := s.meetView(ctx, r.Meet, nil)
	if err != nil {
		return nil, err
	}
	read, err := s.look(ctx, v, *r.Body, gen.OrderKey{})
	if err != nil {
		return nil, err
	}
	out := wire.ShowTable(read.table.Heads, read.looked, read.charset)
	if len(read.faults) > 0 {
		out.Text = wire.Opt(read.text)
	}
	return gen.LookEntryTable200JSONResponse(out), nil
}

// TakeEntryTable takes what LookEntryTable has shown, all of it in one order.
func (s entryTables) TakeEntryTable(ctx context.Context, r gen.TakeEntryTableRequestObject) (gen.TakeEntryTableResponseObject, error) {
	v, err := s.meetNow(ctx, r.Meet)
	if err != nil {
		return nil, err
	}
	read, err := s.look(ctx, v, *r.Body, r.Params.IdempotencyKey)
	if err != nil {
		return nil, err
	}
	written := read.written()
	o := order{key: r.Params.IdempotencyKey, people: withoutConsents(written, read.was)}
	if !read.looked.Good() {
		o.refuse = firstOf(read.looked)
	}
	receipt, err := s.meetOrder(ctx, r.Meet, o, meet.TakeEntries{Entries: read.looked.Orders()})
	if err == nil {
		err = s.noteConsents(ctx, o, written, read.was)
	}
	return gen.TakeEntryTable201JSONResponse{ReceiptJSONResponse: receipt}, err
}

// look reads a body and asks the meet about it.
func (s entryTables) look(ctx context.Context, v view.MeetView, b gen.EntryTableBody, key gen.OrderKey) (sheetRead, error) {
	out := sheetRead{charset: entrytable.UTF8, people: map[day.EntrantID]store.Person{}}
	if (b.File == nil) == (b.Heads == nil && b.Rows == nil) {
		return out, refusal.New("table-one-source")
	}
	if b.File == nil {
		out.table = wire.ReadTable(wire.Deref(b.Heads), wire.Deref(b.Rows))
	} else {
		out.read(*b.File)
	}
	all, err := s.kept.AllPeople(ctx, s.club(ctx))
	if err != nil {
		return out, err
	}
	asked := entrytable.Asked{
		Table: out.table, Division: day.DivisionID(wire.Deref(b.Division)),
		ID: func(prefix string, row int) string { return madeRowID(prefix, key, row) },
	}
	for _, p := range all {
		out.people[day.EntrantID(p.ID)] = p
		asked.Known = append(asked.Known, entrytable.Person{ID: day.EntrantID(p.ID), Name: p.Name, Birth: p.BirthDate})
	}
	out.looked = entrytable.Look(v.State, asked)
	out.looked.Faults = append(out.faults, out.looked.Faults...)
	if out.charset == entrytable.Windows1252 {
		out.looked.Notes = append(out.looked.Notes, entrytable.Fault{Line: 1, Column: 1, Why: refusal.New("table-western")})
	}
	return out, nil
}

func (r *sheetRead) read(file []byte) {
	text, charset, no := entrytable.Decode(file)
	if no != nil {
		r.faults = []entrytable.Fault{*no}
		return
	}
	r.text, r.charset = text, charset
	r.table, r.faults = entrytable.Read(text)
}

// written are the people of the rows as they are to be written down, each once.
func (r sheetRead) written() []store.Person {
	at := map[day.EntrantID]int{}
	var out []store.Person
	for _, row := range r.looked.Rows {
		id := row.Take.Entrant
		i, there := at[id]
		if !there {
			p := r.people[id]
			p.ID = string(id)
			i = len(out)
			at[id], out = i, append(out, p)
		}
		out[i] = wire.ReadTablePerson(out[i], r.looked.Columns, row.Entry)
	}
	return out
}

// was is a person's row before, a zero one where there is none.
func (r sheetRead) was(id string) store.Person { return r.people[day.EntrantID(id)] }

// firstOf refuses a table by its first mistake.
func firstOf(l entrytable.Looked) error {
	faults := l.Faults
	for _, r := range l.Rows {
		faults = append(faults, r.Faults...)
	}
	if len(faults) == 0 {
		return refusal.New("entries-many", "most", meet.MostEntries)
	}
	first := faults[0]
	for _, f := range faults {
		if f.Line < first.Line || f.Line == first.Line && f.Column < first.Column {
			first = f
		}
	}
	return refusal.New("table-faults", "faults", len(faults), "line", first.Line, "column", first.Column)
}

// GetEntryTable gives all entries out as a table.
func (s entryTables) GetEntryTable(ctx context.Context, r gen.GetEntryTableRequestObject) (gen.GetEntryTableResponseObject, error) {
	v, err := s.meetView(ctx, r.Meet, nil)
	if err != nil {
		return nil, err
	}
	return gen.GetEntryTable200TextcsvResponse{SheetTextcsvResponse: sheet(r.Meet+"-entries", view.EntrySheet(v))}, nil
}
