package view

import (
	"cmp"
	"fmt"
	"maps"
	"slices"
	"strconv"
	"strings"

	"benchmeet/api/gen"
	"benchmeet/api/wire"
	"benchmeet/domain/day"
	"benchmeet/domain/entrytable"
)

// EntrySheet is all entries with what is written down of their people, as a table that
// can be taken again; for the organiser alone.
func EntrySheet(v MeetView) []byte {
	yesNo := map[bool]string{true: "yes", false: "no"}
	heads := []string{
		"Number", "Division", "Nickname", "Name", "Date of birth", "Club", "Say as",
		"On screens", "In results", "Photos", "Checked in", "State",
	}
	var rows [][]string
	for _, e := range v.State.SortedEntries("") {
		p, _ := v.Names.Person(string(e.Entrant))
		rows = append(rows, []string{
			strconv.Itoa(e.StartNumber), v.State.Divisions[e.Home()].Name, p.DisplayName, p.Name, p.BirthDate, e.Team, p.SayAs,
			yesNo[p.OnScreen], yesNo[p.InResults], yesNo[p.Photo], yesNo[e.CheckedIn], inWords(string(e.StatusOut())),
		})
	}
	return entrytable.Write(heads, rows)
}

// StandingSheet is a division's standings with the result of each race, as a table. It
// shows what Standings shows, and to nobody more.
func StandingSheet(v MeetView, d day.Division) []byte {
	standings := v.Standings(d)
	heads := []string{"Rank", "Number", "Nickname", "Club", "Division", "Distance (m)", "Uncertainty (m)", "Points", "Result"}
	columns := inOrder(v, standings.Standings)
	for _, c := range columns {
		heads = append(heads, c.head())
	}
	var rows [][]string
	for _, s := range standings.Standings {
		rank := ""
		if s.Rank > 0 {
			rank = strconv.Itoa(s.Rank)
		}
		e := v.State.Entries[day.EntryID(s.Racer.Entry)]
		row := []string{
			rank, strconv.Itoa(s.Racer.StartNumber), wire.Deref(s.Racer.DisplayName), e.Team,
			v.State.Divisions[e.Home()].Name, metres(s.DistanceM), metres(s.UDistanceM), pointsOf(s),
			inWords(cmp.Or(wire.Deref(s.Status), wire.Deref(s.Exit))),
		}
		ran := racesOf(v, s)
		for _, c := range columns {
			row = append(row, resultOf(ran[c]))
		}
		rows = append(rows, row)
	}
	return entrytable.Write(heads, rows)
}

// race is a column of results: legs of one round stand apart.
type race struct{ stage, round, leg int }

func racesOf(v MeetView, s gen.Standing) map[race]gen.StandingRun {
	out := map[race]gen.StandingRun{}
	for _, r := range s.Runs {
		h := v.State.Heats[day.HeatID(r.Heat)]
		at := race{h.Stage, r.Round, 1}
		for _, taken := out[at]; taken; _, taken = out[at] {
			at.leg++
		}
		out[at] = r
	}
	return out
}

func inOrder(v MeetView, all []gen.Standing) []race {
	seen := map[race]bool{}
	for _, s := range all {
		for r := range racesOf(v, s) {
			seen[r] = true
		}
	}
	return slices.SortedFunc(maps.Keys(seen), func(a, b race) int {
		return cmp.Or(a.stage-b.stage, a.round-b.round, a.leg-b.leg)
	})
}

func (r race) head() string {
	head := fmt.Sprintf("Stage %d round %d", r.stage, r.round)
	if r.leg > 1 {
		head += fmt.Sprintf(" race %d", r.leg)
	}
	return head + " (m)"
}

// resultOf is a distance, or in words why there is none.
func resultOf(r gen.StandingRun) string {
	if r.Status != nil {
		return inWords(*r.Status)
	}
	return metres(r.DistanceM)
}

func metres(m *float64) string {
	if m == nil {
		return ""
	}
	return strconv.FormatFloat(*m, 'f', -1, 64)
}

func pointsOf(s gen.Standing) string {
	if s.Points == nil {
		return ""
	}
	if s.PointsOver == nil {
		return strconv.FormatInt(*s.Points, 10)
	}
	return strconv.FormatFloat(float64(*s.Points)/float64(*s.PointsOver), 'f', -1, 64)
}

// inWords is a code as words of English, which it is made of.
func inWords(code string) string { return strings.ReplaceAll(code, "-", " ") }
