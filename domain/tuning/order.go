package tuning

// Order returns the states of the fittings to run, true for the second, B: A B B A B A
// A B and its mirror after that, for as many as asked (at most [MostFittings]). A drift
// that is a straight line or a parabola over eight of them falls out of the difference
// of their means (check values: difference of plain means under drift x and x^2 is 0;
// the sequence is that of E. Prouhet, 1851, from memory), and any four of A B B A lose
// a straight one.
func Order(fittings int) []bool {
	order := make([]bool, min(fittings, MostFittings))
	for i := range order {
		ones := 0
		for bits := i; bits > 0; bits >>= 1 {
			ones += bits & 1
		}
		order[i] = ones%2 == 1
	}
	return order
}

// MostFittings is how many fittings one comparison may plan: an afternoon holds no more.
const MostFittings = 64

// RunsAFitting proposes how often to run each fitting: once where a change takes up to
// two minutes (a pack, a set of wheels), twice where it takes longer and the bench would
// stand still (gears: 5 to 8 minutes in a child's hands, common practice).
func RunsAFitting(changeMinutes float64) int {
	if changeMinutes <= 2 {
		return 1
	}
	return 2
}
