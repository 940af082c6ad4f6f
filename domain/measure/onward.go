package measure

import "slices"

// onwardGaps is how many gaps at the end of a path tell how the roller goes on.
const onwardGaps = 5

// onward returns the gap at the end of a path and the next one, in µs a step. The
// speed and its change are medians over the last gaps (Theil, A rank-invariant
// method of linear and polynomial regression analysis, 1950; Sen 1968): the path is
// often one of a roller that gains speed, and a last stamp that came late would
// otherwise foretell that it brakes.
func (s *search) onward(stamps []int64, m *marks) (gap, next float64) {
	var speeds, middles [onwardGaps]float64 // steps a µs, and when
	n := min(s.length, onwardGaps)
	for k := range n {
		from, to := s.path[s.length-n+k], s.path[s.length-n+k+1]
		took := float64(max(1, stamps[to.stamp]-stamps[from.stamp]))
		speeds[k] = m.spanned(from.mark, to.passes) / took
		middles[k] = float64(stamps[from.stamp]-stamps[0]) + took/2
	}
	var slopes [onwardGaps * (onwardGaps - 1) / 2]float64
	pairs := 0
	for i := range n {
		for j := range i {
			slopes[pairs] = (speeds[i] - speeds[j]) / (middles[i] - middles[j])
			pairs++
		}
	}
	accel := 0.0
	if pairs > 0 {
		accel = median(slopes[:pairs])
	}
	var now [onwardGaps]float64 // what each gap says of the speed in the middle of the last
	for k := range n {
		now[k] = speeds[k] + accel*(middles[n-1]-middles[k])
	}
	speed := median(now[:n])
	gap = 1 / speed
	return gap, ahead(speed-accel*gap, gap, speed, gap, 1)
}

// median returns the median of some numbers, which it puts in order.
func median(x []float64) float64 {
	slices.Sort(x)
	return (x[len(x)/2] + x[(len(x)-1)/2]) / 2
}
