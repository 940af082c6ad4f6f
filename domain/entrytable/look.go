package entrytable

import (
	"cmp"
	"errors"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"benchmeet/domain/day"
	"benchmeet/domain/meet"
	"benchmeet/domain/refusal"
)

// Person is somebody whom the club knows.
type Person struct {
	ID    day.EntrantID
	Name  string
	Birth string // YYYY-MM-DD; without one nobody is taken for them
}

// Asked is what a table is looked at for.
type Asked struct {
	Table Table
	// Division is that of rows that name none; empty where every row has to.
	Division day.DivisionID
	Known    []Person
	// ID makes the id of a thing of a row: the same for the same row of the same order.
	ID func(prefix string, row int) string
}

// Looked is a table as it would be taken.
type Looked struct {
	Columns []Column
	Rows    []LookedRow
	// Faults are those of the table as a whole, and Notes what its reader should know.
	Faults, Notes []Fault
}

// LookedRow is one row as it would be taken, or why it cannot be.
type LookedRow struct {
	Row
	Entry Entry // with the number that it would get
	Take  meet.TakeEntry
	// Known says that the club knows the person already, by name and date of birth.
	Known  bool
	Races  day.EntryTaken // how it would stand in the meet
	Faults []Fault
}

func (r LookedRow) has(code refusal.Code) bool {
	return slices.ContainsFunc(r.Faults, func(f Fault) bool { return f.Why.Code == code })
}

// Good says whether the whole table would be taken.
func (l Looked) Good() bool {
	return len(l.Rows) > 0 && len(l.Faults) == 0 &&
		!slices.ContainsFunc(l.Rows, func(r LookedRow) bool { return len(r.Faults) > 0 })
}

// Orders are the entries that the table takes, in its order.
func (l Looked) Orders() []meet.TakeEntry {
	out := make([]meet.TakeEntry, len(l.Rows))
	for i, r := range l.Rows {
		out[i] = r.Take
	}
	return out
}

// Look says of every row how it would be taken by the meet as it is, by the rules of
// [meet.TakeEntry] and in the table's order. It changes nothing.
func Look(s *day.State, a Asked) Looked {
	var l Looked
	if len(a.Table.Heads) == 0 {
		return l // Read has said why
	}
	l.Columns, l.Faults, l.Notes = checkHeads(a.Table.Heads, a.Table.HeadLine)
	if slices.ContainsFunc(l.Faults, func(f Fault) bool { return f.Why.Code == "table-no-heads" }) {
		return l // its cells mean nothing
	}
	for _, r := range a.Table.Rows {
		e, faults := entryOf(r, l.Columns)
		l.Rows = append(l.Rows, LookedRow{Row: r, Entry: e, Faults: faults})
	}
	l.number(s)
	l.identify(a)
	for i := range l.Rows {
		l.place(s, a, &l.Rows[i])
	}
	l.decide(s)
	return l
}

// columnOf is where faults about a column are shown; what has no column stands at the first.
func (l Looked) columnOf(columns ...Column) int {
	for _, c := range columns {
		if at := slices.Index(l.Columns, c); at >= 0 {
			return at + 1
		}
	}
	return 1
}

// number gives the next free start numbers to rows without one and says which numbers
// are not free, with one that is.
func (l *Looked) number(s *day.State) {
	lineOf := map[int]int{}
	highest := 0
	for n := range s.Numbers {
		highest = max(highest, n)
	}
	for _, r := range l.Rows {
		highest = max(highest, r.Entry.Number)
	}
	given := highest // the last one that was given or proposed
	free := func() int {
		for n := given + 1; n != given; n++ {
			if n > day.MaxStartNumber {
				n = 0
				continue
			}
			if _, taken := s.Numbers[n]; !taken && lineOf[n] == 0 {
				given = n
				return n
			}
		}
		return 0
	}
	at := l.columnOf(Number)
	for i := range l.Rows {
		r := &l.Rows[i]
		n := r.Entry.Number
		if n == 0 {
			continue
		}
		if _, taken := s.Numbers[n]; taken {
			r.Faults = append(r.Faults, fault(r.Line, at, "table-number-taken", "number", n, "free", free()))
		} else if lineOf[n] > 0 {
			r.Faults = append(r.Faults, fault(r.Line, at, "table-number-twice", "number", n, "line", lineOf[n], "free", free()))
		}
		if lineOf[n] == 0 {
			lineOf[n] = r.Line
		}
	}
	for i := range l.Rows {
		r := &l.Rows[i]
		if r.Entry.Number == 0 && !r.has("table-number") {
			r.Entry.Number = free()
			lineOf[r.Entry.Number] = r.Line
		}
	}
}

// identify gives every row its ids. A name with a date of birth is one person, in the club
// and in the table.
func (l *Looked) identify(a Asked) {
	key := func(name, birth string) string { return strings.ToLower(name) + "\n" + birth }
	people := map[string]day.EntrantID{}
	twice := map[string]bool{}
	for _, p := range a.Known {
		if k := key(p.Name, p.Birth); p.Birth != "" {
			twice[k] = people[k] != ""
			people[k] = p.ID
		}
	}
	for i := range l.Rows {
		r := &l.Rows[i]
		k := key(r.Entry.Name, r.Entry.Birth)
		entrant := day.EntrantID(a.ID("p-", i))
		if r.Entry.Birth != "" && r.Entry.Name != "" && !twice[k] {
			_, r.Known = people[k]
			entrant = cmp.Or(people[k], entrant)
			people[k] = entrant
		}
		r.Take = meet.TakeEntry{
			ID: day.EntryID(a.ID("e-", i)), Entrant: entrant, Car: day.CarID(a.ID("c-", i)),
			StartNumber: r.Entry.Number, Team: r.Entry.Club, Age: -1,
		}
	}
}

// place finds the division and the age of a row.
func (l Looked) place(s *day.State, a Asked, r *LookedRow) {
	if r.has("table-cells-many") || r.has("table-cells-few") || r.has("table-separator-here") {
		return // nothing of it was read
	}
	at := l.columnOf(Division)
	division, no := divisionOf(s, r.Entry.Division, a.Division)
	if no != nil {
		r.Faults = append(r.Faults, Fault{r.Line, at, no})
	}
	r.Take.Division = division
	if r.Entry.Birth == "" || r.has("birth-date") {
		return
	}
	age, possible := s.Plan.AgeOf(r.Entry.Birth)
	if !possible {
		r.Faults = append(r.Faults, fault(r.Line, l.columnOf(Birth), "birth-date", "date", r.Entry.Birth))
		return
	}
	r.Take.Age = age
}

// divisionOf finds a division by its name or id, whatever the case.
func divisionOf(s *day.State, said string, otherwise day.DivisionID) (day.DivisionID, *refusal.Refusal) {
	if said == "" {
		if _, there := s.Divisions[otherwise]; !there {
			return "", refusal.New("table-division-empty")
		}
		return otherwise, nil
	}
	var names []string
	var found []day.DivisionID
	for _, d := range s.SortedDivisions() {
		names = append(names, d.Name)
		if strings.EqualFold(strings.Join(strings.Fields(d.Name), " "), said) || strings.EqualFold(string(d.ID), said) {
			found = append(found, d.ID)
		}
	}
	if len(found) != 1 {
		return "", refusal.New("table-division", "cell", short(said), "divisions", strings.Join(names, ", "))
	}
	return found[0], nil
}

// decide asks the meet about the rows that have no fault of their own.
func (l *Looked) decide(s *day.State) {
	var rows []int
	var orders []meet.TakeEntry
	for i, r := range l.Rows {
		if len(r.Faults) == 0 {
			rows, orders = append(rows, i), append(orders, r.Take)
		}
	}
	for k, looked := range meet.LookEntries(s, orders) {
		r := &l.Rows[rows[k]]
		r.Races = looked.Taken
		var no *refusal.Refusal
		if errors.As(looked.Refused, &no) {
			r.Faults = append(r.Faults, Fault{r.Line, l.columnFor(no.Code), inTable(*r, no)})
		}
	}
}

// columnFor is where a refusal of the meet is put right.
func (l Looked) columnFor(code refusal.Code) int {
	switch code {
	case "start-number", "start-number-taken":
		return l.columnOf(Number)
	case "too-old":
		return l.columnOf(Birth, Division)
	case "entry-team":
		return l.columnOf(Club)
	case "entrant-there":
		return l.columnOf(Name, First, Last)
	}
	return l.columnOf(Division)
}

// inTable is a refusal in the words of somebody who looks at a row.
func inTable(r LookedRow, no *refusal.Refusal) *refusal.Refusal {
	switch no.Code {
	case "too-old":
		return refusal.New("table-too-old", "years", r.Take.Age, "age", argOf(no, "age"))
	case "entry-team":
		most, err := strconv.Atoi(argOf(no, "most"))
		if length := utf8.RuneCountInString(r.Entry.Club); err == nil && length > most {
			return refusal.New("table-cell-long", "most", most, "length", length)
		}
	case "entrant-there":
		return refusal.New("table-person-there", "number", argOf(no, "number"))
	}
	return no
}

func argOf(no *refusal.Refusal, name string) string {
	for _, a := range no.Args {
		if a.Name == name {
			return a.Value
		}
	}
	return ""
}
