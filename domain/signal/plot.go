package signal

import "slices"

// Plot is the steps from stamp to stamp over time, on a grid: a good signal is one thin
// line.
type Plot struct {
	// Seconds is how long the columns are in all, from the first stamp to the last, or to
	// the end of the look. TopUS is what the rows are in all, in µs; longer steps stand in
	// the top row.
	Seconds, TopUS float64
	Columns, Rows  int
	// Dots are the places of the grid in which a step ends, each once, by column and row.
	Dots []Dot
}

// Dot is a place of a plot's grid, the first column at the left and the first row at the
// bottom, both 0.
type Dot struct{ Column, Row int }

// plotTop is how many usual steps high a plot is: a mark that was missed once still has
// its place.
const plotTop = 2.5

// Draw plots stamps in µs, up to untilUS where that is later. Fewer than three make no
// plot. It costs the sorting of the steps.
func Draw(stamps []int64, untilUS int64, columns, rows int) Plot {
	p := Plot{Columns: columns, Rows: rows}
	if len(stamps) < 3 {
		return p
	}
	from := stamps[0]
	span := float64(max(stamps[len(stamps)-1], untilUS, from+1) - from)
	p.Seconds, p.TopUS = span/1e6, plotTop*usualStep(stamps)
	seen := map[Dot]bool{}
	for i := 1; i < len(stamps); i++ {
		d := Dot{
			Column: min(columns-1, int(float64(stamps[i]-from)/span*float64(columns))),
			Row:    min(rows-1, int(float64(stamps[i]-stamps[i-1])/p.TopUS*float64(rows))),
		}
		if d.Row >= 0 && !seen[d] {
			seen[d] = true
			p.Dots = append(p.Dots, d)
		}
	}
	slices.SortFunc(p.Dots, func(a, b Dot) int {
		if a.Column != b.Column {
			return a.Column - b.Column
		}
		return a.Row - b.Row
	})
	return p
}

// usualStep is the step of which half of the time is filled by shorter ones: a heap of
// short ones and a few long ones do not change it.
func usualStep(stamps []int64) float64 {
	steps := make([]int64, 0, len(stamps))
	for i := 1; i < len(stamps); i++ {
		steps = append(steps, stamps[i]-stamps[i-1])
	}
	slices.Sort(steps)
	filled, half := int64(0), (stamps[len(stamps)-1]-stamps[0])/2
	for _, step := range steps {
		if filled += step; filled > half {
			return float64(max(step, 1))
		}
	}
	return 1
}
