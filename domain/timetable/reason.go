package timetable

import (
	"fmt"
	"strings"
)

// ReasonCode names what holds a day up.
type ReasonCode string

// Reason says what holds a day up, as a code with arguments, so that a screen can
// show it in its own language.
type Reason struct {
	Code ReasonCode
	// Activity, Entry or Resource, as the code needs; From and To where it is of a time.
	Activity, Entry, Resource string
	From, To                  int
}

// reasons is the catalogue of sentences.
var reasons = map[ReasonCode]string{
	"nothing":  "nothing to do",
	"entry":    "rest of entry {entry}",
	"resource": "{resource} between {from} and {to}",
	"chain":    "chain to {activity}",
	"release":  "release of {activity}",
	"fixed":    "fixed start of {activity}",
}

// plurals are words of resources that a sentence reads better with.
var plurals = map[string]string{"bench": "benches", "referee": "referees", "starter": "starters", "official": "officials"}

// Says is the English sentence. Times are those of the problem.
func (r Reason) Says() string {
	resource := r.Resource
	if many, known := plurals[resource]; known {
		resource = many
	}
	return strings.NewReplacer(
		"{entry}", r.Entry, "{activity}", r.Activity, "{resource}", resource,
		"{from}", fmt.Sprint(r.From), "{to}", fmt.Sprint(r.To),
	).Replace(reasons[r.Code])
}

// reason puts a cause into words; a chain is followed to its end, and where the time
// in it is rather that of an entry's rests or of a resource, that is said.
func (m *model) reason(r reach) Reason {
	if m.n == 0 || r.t == 0 {
		return Reason{Code: "nothing"}
	}
	switch r.why.kind {
	case byEntry:
		return Reason{Code: "entry", Entry: m.names[r.why.at]}
	case byResource:
		return Reason{Code: "resource", Resource: m.p.Resources[r.why.at].Name, From: r.why.from, To: r.why.to}
	}
	return m.chainReason(r.why.at)
}

// chainReason looks along the longest chain through an activity for what it is made of.
func (m *model) chainReason(through int) Reason {
	last := through
	var within []cause
	for last >= 0 && m.tail[last] > 0 {
		why := m.tailWhy[last]
		if why.kind != byChain {
			// A tail is reckoned from the end of the day.
			day := m.head[through] + m.dur[through] + m.tail[through]
			why.from, why.to = day-why.to, day-why.from
			within = append(within, why)
			break
		}
		last = why.at
	}
	var links []int
	first := through
	for {
		links = append(links, first)
		why := m.headWhy[first]
		if why.kind != byChain || m.fixed[first] >= 0 {
			if why.kind == byResource || why.kind == byEntry {
				within = append(within, why)
			}
			break
		}
		first = why.at
	}
	for _, why := range within {
		switch why.kind {
		case byResource:
			if why.to-why.from > (m.head[through]+m.dur[through]+m.tail[through])/2 {
				return Reason{Code: "resource", Resource: m.p.Resources[why.at].Name, From: why.from, To: why.to}
			}
		case byEntry:
			return Reason{Code: "entry", Entry: m.names[why.at]}
		}
	}
	if len(links) == 1 && m.tail[through] == 0 {
		switch {
		case m.fixed[first] >= 0:
			return Reason{Code: "fixed", Activity: m.id(first)}
		case m.head[first] > 0:
			return Reason{Code: "release", Activity: m.id(first)}
		}
	}
	if e := m.restOf(links, through); e >= 0 {
		return Reason{Code: "entry", Entry: m.names[e]}
	}
	return Reason{Code: "chain", Activity: m.id(last)}
}

// restOf is the entry that has to rest within a chain, -1 if none has.
func (m *model) restOf(links []int, through int) int {
	for at := through; m.tail[at] > 0 && m.tailWhy[at].kind == byChain; {
		links = append([]int{m.tailWhy[at].at}, links...)
		at = m.tailWhy[at].at
	}
	for k := 1; k < len(links); k++ {
		if lag, shared := m.lag(links[k], links[k-1]); shared && lag > 0 {
			for _, e := range m.ents[links[k]] {
				if m.rest[e] == lag && m.has(links[k-1], e) {
					return e
				}
			}
		}
	}
	return -1
}

func (m *model) has(i, e int) bool {
	for _, x := range m.ents[i] {
		if x == e {
			return true
		}
	}
	return false
}
