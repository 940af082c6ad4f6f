package day

// rest is a stretch in which nothing happened, in µs.
type rest struct{ fromUS, toUS int64 }

// longRestUS is how long nothing happened where it is remembered. A clock that was set
// ahead by less cannot be told from a quiet hall.
const longRestUS = 10 * 60 * 1_000_000

// rests are the long ones of a day, oldest first: they tell where a clock leapt.
type rests []rest

// until remembers the stretch from the newest event to an instant, where it was long.
func (r rests) until(newestUS, atUS int64) rests {
	if newestUS == 0 || atUS-newestUS < longRestUS {
		return r
	}
	return append(r[:len(r):len(r)], rest{newestUS, atUS})
}
