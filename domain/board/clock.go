package board

import "benchmeet/domain/day"

// aheadUS is how far the times of a day may be ahead of a server's clock unsaid, in µs:
// several servers have not quite the same time.
const aheadUS = 30_000_000

// AheadUS is how far the times of the day are ahead of a server's clock, in µs; 0 where
// that is not worth a word.
func AheadUS(s *day.State, nowUS int64) int64 {
	if ahead := s.TimeUS - nowUS; ahead >= aheadUS {
		return ahead
	}
	return 0
}
