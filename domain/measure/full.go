package measure

import "slices"

// FullSpeed says when a car had come up to speed.
type FullSpeed struct {
	// Speed is the full speed, in the unit of the speeds: the highest median of a
	// tenth of the run, so that neither a spike nor a fading battery decides it.
	Speed float64
	// At is when 95 % of it was first reached and held for two samples, in s.
	At float64
}

// fullPart is what counts as having reached full speed. A first-order rise is
// there after three times its time constant.
const fullPart = 0.95

// FindFullSpeed finds the full speed in times in s, ascending, and speeds. It is
// ErrNoFit where the run shows no rise: it is too short, or was at full speed when
// its first speed was known.
func FindFullSpeed(times, speeds []float64) (FullSpeed, error) {
	n := len(times)
	if n < 10 || n != len(speeds) {
		return FullSpeed{}, ErrNoFit
	}
	out := FullSpeed{}
	for part := range 10 {
		piece := slices.Sorted(slices.Values(speeds[part*n/10 : (part+1)*n/10]))
		out.Speed = max(out.Speed, piece[len(piece)/2])
	}
	line := fullPart * out.Speed
	for i := 1; i < n; i++ {
		if speeds[i] < line || i+1 < n && speeds[i+1] < line {
			continue
		}
		if speeds[i-1] >= line {
			break // it was up to speed from the first sample on
		}
		share := (line - speeds[i-1]) / (speeds[i] - speeds[i-1])
		out.At = times[i-1] + share*(times[i]-times[i-1])
		return out, nil
	}
	return FullSpeed{}, ErrNoFit
}
