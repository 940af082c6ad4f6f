package sheet

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"benchmeet/domain/fairness"
)

// BenchTable is what the file of results holds.
type BenchTable struct {
	runs  []fairness.Run
	lines []int // of each run, counted from 1
}

// groups returns the values by bench, benches in the order of their names.
func (t BenchTable) groups() []fairness.Group {
	byName := map[string]int{}
	var out []fairness.Group
	for _, r := range t.runs {
		i, there := byName[r.Bench]
		if !there {
			i = len(out)
			byName[r.Bench], out = i, append(out, fairness.Group{Name: r.Bench})
		}
		out[i].Values = append(out[i].Values, r.Value)
	}
	slices.SortFunc(out, func(a, b fairness.Group) int { return strings.Compare(a.Name, b.Name) })
	return out
}

// decimal is what may stand as a value: digits, perhaps with a sign and a
// decimal point. A comma is refused rather than read as one of two things.
var decimal = regexp.MustCompile(`^[+-]?[0-9]+(\.[0-9]+)?$`)

// ReadBenches reads the CSV strictly: every column known, every field filled.
// Errors name the line.
func ReadBenches(text []byte) (BenchTable, error) {
	text = bytes.TrimPrefix(text, []byte("\ufeff")) // spreadsheets write it
	r := csv.NewReader(bytes.NewReader(text))
	r.FieldsPerRecord = -1
	r.TrimLeadingSpace = true
	header, err := r.Read()
	if errors.Is(err, io.EOF) {
		return BenchTable{}, errors.New("line 1: the file is empty; its first line is bench,car,value")
	}
	if err != nil {
		return BenchTable{}, explainCSV(err)
	}
	at, err := benchColumns(header)
	if err != nil {
		return BenchTable{}, fmt.Errorf("line 1: %w", err)
	}
	var table BenchTable
	for {
		record, err := r.Read()
		if errors.Is(err, io.EOF) {
			return table, nil
		}
		if err != nil {
			return BenchTable{}, explainCSV(err)
		}
		line, _ := r.FieldPos(0)
		if len(record) != len(header) {
			return BenchTable{}, fmt.Errorf("line %d: there are %d fields, and the header names %d", line, len(record), len(header))
		}
		run, err := benchRun(record, at)
		if err != nil {
			return BenchTable{}, fmt.Errorf("line %d: %w", line, err)
		}
		table.runs, table.lines = append(table.runs, run), append(table.lines, line)
	}
}

// benchColumns finds the columns by their names, in whatever order.
func benchColumns(header []string) (map[string]int, error) {
	at := map[string]int{}
	for i, name := range header {
		name = strings.TrimSpace(name)
		if !slices.Contains([]string{"bench", "car", "value", "round"}, name) {
			return nil, fmt.Errorf(
				"the column %q is not known; columns are bench, car, value and, if you like, round, with commas between them", name,
			)
		}
		if _, twice := at[name]; twice {
			return nil, fmt.Errorf("the column %s stands there twice", name)
		}
		at[name] = i
	}
	for _, name := range []string{"bench", "car", "value"} {
		if _, there := at[name]; !there {
			return nil, fmt.Errorf("the column %s is missing; the header is bench,car,value", name)
		}
	}
	return at, nil
}

func benchRun(record []string, at map[string]int) (fairness.Run, error) {
	field := func(name string) string { return strings.TrimSpace(record[at[name]]) }
	run := fairness.Run{Bench: field("bench"), Car: field("car")}
	for _, name := range []string{"bench", "car"} {
		if field(name) == "" {
			return run, fmt.Errorf("%s is empty", name)
		}
	}
	value, err := strconv.ParseFloat(field("value"), 64)
	if !decimal.MatchString(field("value")) || err != nil || math.IsInf(value, 0) {
		return run, fmt.Errorf("value %q is not a decimal number; write it as 231.2", field("value"))
	}
	if value <= 0 {
		return run, Refuse(
			"value %s of car %s on bench %s is not above zero; leave out runs that did not count", field("value"), run.Car, run.Bench,
		)
	}
	run.Value = value
	if _, there := at["round"]; there {
		round, err := strconv.ParseUint(field("round"), 10, 31)
		if err != nil || round == 0 {
			return run, fmt.Errorf("round %q is not a whole number from 1", field("round"))
		}
		run.At, run.Round = float64(round), strconv.FormatUint(round, 10)
	}
	return run, nil
}

// explainCSV names the line of a file that is not CSV.
func explainCSV(err error) error {
	var parse *csv.ParseError
	if errors.As(err, &parse) {
		return fmt.Errorf("line %d: not CSV: %w", parse.Line, parse.Err)
	}
	return err
}
