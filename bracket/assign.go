package bracket

import "math"

// assign gives every row a column of its own such that the sum of the costs is least, and returns the column of
// each row. The cost matrix must be square. Where several assignments are least, the one returned is repeatable.
// The time grows with the cube of the size.
//
// Method: shortest augmenting paths with potentials (Kuhn 1955, Munkres 1957, in the form of Jonker and
// Volgenant 1987).
func assign(cost [][]int) []int {
	n := len(cost)
	const none = -1
	rowPotential := make([]int, n)
	columnPotential := make([]int, n+1)
	rowOf := make([]int, n+1) // of each column; column n is where the row being placed waits
	for j := range rowOf {
		rowOf[j] = none
	}
	for row := range n {
		rowOf[n] = row
		column := n
		distance := make([]int, n)
		from := make([]int, n)
		for j := range distance {
			distance[j] = math.MaxInt
		}
		done := make([]bool, n+1)
		for rowOf[column] != none {
			done[column] = true
			i := rowOf[column]
			step, next := math.MaxInt, none
			for j := range n {
				if done[j] {
					continue
				}
				if reduced := cost[i][j] - rowPotential[i] - columnPotential[j]; reduced < distance[j] {
					distance[j] = reduced
					from[j] = column
				}
				if distance[j] < step {
					step, next = distance[j], j
				}
			}
			for j := range n + 1 {
				if done[j] {
					rowPotential[rowOf[j]] += step
					columnPotential[j] -= step
				} else if j < n {
					distance[j] -= step
				}
			}
			column = next
		}
		for column != n {
			rowOf[column] = rowOf[from[column]]
			column = from[column]
		}
	}
	columns := make([]int, n)
	for j := range n {
		columns[rowOf[j]] = j
	}
	return columns
}
