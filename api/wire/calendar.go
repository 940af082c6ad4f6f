package wire

import (
	"strconv"
	"strings"
	"time"
	"unicode/utf8"
)

// Calendar is what a calendar program reads of a race day, by RFC 5545 (B. Desruisseaux, 2009). The project writes four
// kinds of values into one kind of component, so that it writes them itself: folding and escaping are all there is to it.
type Calendar struct {
	// Name is what a program may call the calendar.
	Name   string
	Events []CalendarEvent
}

// CalendarEvent is one event. An event without From and Until is one of the whole Date.
type CalendarEvent struct {
	// UID names the event for ever, in the whole world.
	UID string
	// Stamp is when what it says was true first; Sequence counts what was said before.
	Stamp    time.Time
	Sequence int64
	// From and Until are when it is: Until is behind From, and the event ends before it.
	From, Until time.Time
	// Date is YYYYMMDD.
	Date                        string
	Summary, Description, Place string
	// Sure says that it is told, and no guess.
	Sure bool
}

// refresh is how long a program that subscribes keeps what it has read (RFC 7986, section 5.7).
const refresh = "PT5M"

// Bytes are the calendar as it is sent, in UTF-8. An RFC 5545 calendar has at least one event: so has Events.
func (c Calendar) Bytes() []byte {
	var out contentLines
	out.put("BEGIN", "VCALENDAR")
	out.put("VERSION", "2.0")
	out.put("PRODID", "-//Benchmeet//Race day//EN")
	out.put("CALSCALE", "GREGORIAN")
	out.text("NAME", c.Name)
	out.text("X-WR-CALNAME", c.Name)
	out.put("REFRESH-INTERVAL;VALUE=DURATION", refresh)
	out.put("X-PUBLISHED-TTL", refresh)
	for _, e := range c.Events {
		e.put(&out)
	}
	out.put("END", "VCALENDAR")
	return []byte(out.String())
}

func (e CalendarEvent) put(out *contentLines) {
	out.put("BEGIN", "VEVENT")
	out.put("UID", e.UID)
	out.put("DTSTAMP", utc(e.Stamp))
	out.put("LAST-MODIFIED", utc(e.Stamp))
	out.put("SEQUENCE", strconv.FormatInt(e.Sequence, 10))
	if e.From.IsZero() {
		out.put("DTSTART;VALUE=DATE", e.Date)
	} else {
		out.put("DTSTART", utc(e.From))
		out.put("DTEND", utc(e.Until))
	}
	out.text("SUMMARY", e.Summary)
	out.text("DESCRIPTION", e.Description)
	if e.Place != "" {
		out.text("LOCATION", e.Place)
	}
	status := "TENTATIVE"
	if e.Sure {
		status = "CONFIRMED"
	}
	out.put("STATUS", status)
	out.put("TRANSP", "TRANSPARENT") // who races is found by the call, not by being busy all morning
	out.put("END", "VEVENT")
}

// utc is a DATE-TIME in UTC (form 2 of section 3.3.5).
func utc(t time.Time) string { return t.UTC().Format("20060102T150405Z") }

// contentLines are the lines of section 3.1.
type contentLines struct{ strings.Builder }

// mostOctets is how long a line may be, without its break.
const mostOctets = 75

// put writes a line whose value has nothing to escape. What is longer than a line goes on
// in the next, behind a blank, and no character is cut in two.
func (w *contentLines) put(name, value string) {
	line := name + ":" + value
	for room := mostOctets; len(line) > room; room = mostOctets - 1 {
		end := room
		for !utf8.RuneStart(line[end]) {
			end--
		}
		w.WriteString(line[:end] + "\r\n ")
		line = line[end:]
	}
	w.WriteString(line + "\r\n")
}

// text writes a line whose value is a TEXT (section 3.3.11). Signs that steer a printer and
// that no TEXT may hold are left out.
func (w *contentLines) text(name, value string) {
	value = strings.Map(func(r rune) rune {
		if r != '\n' && (r < ' ' || r == 0x7f) {
			return -1
		}
		return r
	}, strings.ReplaceAll(strings.ToValidUTF8(value, ""), "\r\n", "\n"))
	w.put(name, strings.NewReplacer(`\`, `\\`, ";", `\;`, ",", `\,`, "\n", `\n`).Replace(value))
}
