package entrytable

import (
	"strings"
	"unicode"
)

// Column is what the cells of a column mean.
type Column string

// The columns that are known. First and Last are the parts of a name where it stands in
// two columns; Consents names in words what the guardian agrees to.
const (
	Number    Column = "number"
	Division  Column = "division"
	Nickname  Column = "nickname"
	Name      Column = "name"
	First     Column = "first-name"
	Last      Column = "last-name"
	Birth     Column = "birth-date"
	Club      Column = "club"
	SayAs     Column = "say-as"
	OnScreen  Column = "on-screen"
	InResults Column = "in-results"
	Photo     Column = "photo"
	Consents  Column = "consents"
	// Unused is a column that nobody asked for; it may be headed so to be left out.
	Unused Column = "unused"
)

// words are the heads that mean a column, in English and German, without blanks, signs
// and case. "Class" and "Klasse" are left out on purpose: on a school's list they are
// the child's form.
var words = map[Column]string{
	Number:   "number no nr startnumber startno startnr startnummer nummer carnumber autonummer",
	Division: "division agegroup agedivision altersklasse altersgruppe wertung wertungsklasse",
	Nickname: "nickname nick displayname spitzname anzeigename",
	Name: "name fullname child childsname entrant person vollername kind namedeskindes " +
		"teilnehmer teilnehmerin vorundnachname vorundzuname",
	First:    "firstname givenname forename vorname",
	Last:     "lastname surname familyname nachname familienname zuname",
	Birth:    "birthdate dateofbirth dob birth born birthday geburtsdatum geburtstag geboren geborenam gebdatum",
	Club:     "club school troop team verein schule mannschaft",
	SayAs:    "sayas howtosayit pronunciation aussprache",
	OnScreen: "onscreen onscreens screen screens nicknameonscreens bildschirm bildschirme aufbildschirmen anzeige spitznameaufbildschirmen",
	InResults: "inresults results nicknameinresults nicknameinpublishedresults publishedresults ergebnisse " +
		"inergebnissen ergebnisliste spitznameinergebnissen",
	Photo:    "photo photos photographs foto fotos",
	Consents: "consents consent agreed agreement guardianagrees einwilligung einwilligungen zustimmung",
	Unused:   "unused notused",
}

// meanings leads from a word to the column.
var meanings = func() map[string]Column {
	m := map[string]Column{}
	for column, list := range words {
		for word := range strings.FieldsSeq(list) {
			m[word] = column
		}
		m[plain(string(column))] = column
	}
	return m
}()

// MeaningOf is what a head says of its column; empty where it is not known. What stands
// in brackets does not count: "Geburtsdatum (TT.MM.JJJJ)" is a date of birth.
func MeaningOf(head string) Column { return meanings[plain(head)] }

// plain is a head without case, blanks, signs and what stands in brackets.
func plain(head string) string {
	if before, rest, found := strings.Cut(head, "("); found {
		_, after, _ := strings.Cut(rest, ")")
		head = before + after
	}
	return strings.Map(func(r rune) rune {
		if unicode.IsLetter(r) || unicode.IsDigit(r) {
			return unicode.ToLower(r)
		}
		return -1
	}, head)
}

// checkHeads finds what is wrong with the heads of a table, and which of them say
// nothing. Lines of heads are 1 where they were typed on the page.
func checkHeads(heads []string, line int) (columns []Column, faults, notes []Fault) {
	first := map[Column]int{}
	for i, head := range heads {
		c := MeaningOf(head)
		switch {
		case c == "" && strings.TrimSpace(head) == "":
			c = Unused
		case c == "":
			notes = append(notes, fault(line, i+1, "table-head-unknown", "head", short(head)))
			c = Unused
		case c != Unused && first[c] > 0:
			faults = append(faults, fault(line, i+1, "table-head-twice", "head", short(head), "first", first[c]))
			c = Unused
		case c != Unused:
			first[c] = i + 1
		}
		columns = append(columns, c)
	}
	switch {
	case len(first) == 0:
		return columns, append(faults, fault(line, 1, "table-no-heads")), nil
	case first[Name] == 0 && first[First] == 0 && first[Last] == 0:
		faults = append(faults, fault(line, 1, "table-no-name"))
	}
	return columns, faults, notes
}
