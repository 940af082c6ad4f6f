package bracket

import (
	"encoding/csv"
	"encoding/json"
	"os"
	"strconv"
	"strings"
	"testing"
)

// readCSV returns the rows of a file of testdata, header first. Lines that begin with # name the source.
func readCSV(t *testing.T, name string) [][]string {
	t.Helper()
	f, err := os.Open("testdata/" + name)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	r := csv.NewReader(f)
	r.Comment = '#'
	rows, err := r.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	return rows
}

// readNumbers returns the rows of a file of testdata as whole numbers, without the header.
func readNumbers(t *testing.T, name string) [][]int {
	t.Helper()
	var numbers [][]int
	for _, row := range readCSV(t, name)[1:] {
		var line []int
		for _, cell := range row {
			n, err := strconv.Atoi(strings.TrimSpace(cell))
			if err != nil {
				t.Fatalf("%s: %v", name, err)
			}
			line = append(line, n)
		}
		numbers = append(numbers, line)
	}
	return numbers
}

func readJSON(t *testing.T, name string, into any) {
	t.Helper()
	b, err := os.ReadFile("testdata/" + name)
	if err != nil {
		t.Fatal(err)
	}
	if err := json.Unmarshal(b, into); err != nil {
		t.Fatalf("%s: %v", name, err)
	}
}
