package entrytable

import (
	"cmp"
	"strings"

	"benchmeet/domain/club"
	"benchmeet/domain/refusal"
)

// Entry is what a row says. What has no column is empty, and Has says which are there.
type Entry struct {
	Number    int // 0: the next free one
	Division  string
	Name      string
	Nickname  string
	SayAs     string
	Birth     string // YYYY-MM-DD
	Club      string
	OnScreen  bool
	InResults bool
	Photo     bool
}

// entryOf reads a row under its columns. A row with too few or too many cells is not
// guessed at: a name would stand where the club belongs.
func entryOf(r Row, columns []Column) (Entry, []Fault) {
	var e Entry
	if f := checkWidth(r, columns); f != nil {
		return e, []Fault{*f}
	}
	var faults []Fault
	var first, last string
	at := map[Column]int{}
	for i, c := range columns {
		at[c] = i + 1
		text := ""
		if i < len(r.Cells) {
			text = textOf(r.Cells[i])
		}
		if no := e.take(c, text, &first, &last); no != nil {
			faults = append(faults, Fault{r.Line, i + 1, no})
		}
	}
	if e.Name == "" {
		e.Name = strings.TrimSpace(first + " " + last)
	}
	if named := max(at[Name], at[First], at[Last]); e.Name == "" && named > 0 {
		faults = append(faults, fault(r.Line, cmp.Or(at[Name], at[First], at[Last]), "table-name-empty"))
	}
	return e, append(faults, e.written(r.Line, at, first)...)
}

// written looks at what is written down of a person by the rule that forms have. first is
// the part of the name that has a column of its own, if there is one.
func (e Entry) written(line int, at map[Column]int, first string) (out []Fault) {
	for _, f := range (club.Written{Name: e.Name, DisplayName: e.Nickname, SayAs: e.SayAs, Born: e.Birth}).Faults(club.AnyDay) {
		column := map[club.Field]int{club.DisplayName: at[Nickname], club.SayAs: at[SayAs], club.Born: at[Birth]}[f.Field]
		if f.Field == club.Name {
			if e.Name == "" {
				continue // it is said already
			}
			column = cmp.Or(at[Name], max(at[First], at[Last]))
			if part := (club.Written{Name: first}).Check(club.AnyDay); at[Name] == 0 && first != "" && part != nil {
				column = at[First]
			}
		}
		why := f.Why
		switch why.Code {
		case "name-long":
			why = refusal.New("table-cell-long", "most", argOf(why, "most"), "length", argOf(why, "length"))
		case "birth-no-date":
			why = refusal.New("birth-date", "date", e.Birth)
		}
		out = append(out, Fault{line, column, why})
	}
	return out
}

// take puts one cell into the entry.
func (e *Entry) take(c Column, text string, first, last *string) (no *refusal.Refusal) {
	switch c {
	case Number:
		if text != "" {
			e.Number, no = numberOf(text)
		}
	case Division:
		e.Division = text
	case Name:
		e.Name = text
	case First:
		*first = text
	case Last:
		*last = text
	case Nickname:
		e.Nickname = text
	case SayAs:
		e.SayAs = text
	case Club:
		e.Club = text
	case Birth:
		if text != "" {
			e.Birth, no = dateOf(text)
		}
	case OnScreen:
		e.OnScreen, no = yesOf(text)
	case InResults:
		e.InResults, no = yesOf(text)
	case Photo:
		e.Photo, no = yesOf(text)
	case Consents:
		var screen, results, photo bool
		screen, results, photo, no = consentsOf(text)
		e.OnScreen, e.InResults, e.Photo = e.OnScreen || screen, e.InResults || results, e.Photo || photo
	case Unused:
	}
	return no
}

// checkWidth compares the cells of a row with the heads; empty ones at its end do not count.
func checkWidth(r Row, columns []Column) *Fault {
	cells := len(r.Cells)
	for cells > len(columns) && strings.TrimSpace(r.Cells[cells-1]) == "" {
		cells--
	}
	var f Fault
	switch {
	case cells > len(columns):
		f = fault(r.Line, len(columns)+1, "table-cells-many", "cells", cells, "heads", len(columns))
	case cells == len(columns):
		return nil
	case cells == 1 && strings.ContainsAny(r.Cells[0], ";,\t"):
		f = fault(r.Line, 1, "table-separator-here", "heads", len(columns))
	default:
		f = fault(r.Line, cells+1, "table-cells-few", "cells", cells, "heads", len(columns))
	}
	return &f
}
