package node

import "time"

const (
	// envelopeBucket and envelopeBuckets make the window in which the quickest line
	// is looked for: four seconds, in which a clock that is half a per cent off runs
	// 20 ms away.
	envelopeBucket  = 500 * time.Millisecond
	envelopeBuckets = 8
)

// envelope is the least delay of the last lines: the difference of the computer's
// clock and the box's at the line that was held up least.
type envelope struct {
	least   time.Duration
	known   bool
	buckets [envelopeBuckets]struct {
		number int64
		least  time.Duration
		used   bool
	}
}

// add takes the delay of a line that came at an instant.
func (e *envelope) add(at, delay time.Duration) {
	number := int64(at / envelopeBucket)
	b := &e.buckets[((number%envelopeBuckets)+envelopeBuckets)%envelopeBuckets]
	if !b.used || b.number != number {
		b.number, b.least, b.used = number, delay, true
	}
	b.least = min(b.least, delay)
	e.least, e.known = delay, true
	for _, b := range e.buckets {
		if b.used && b.number > number-envelopeBuckets {
			e.least = min(e.least, b.least)
		}
	}
}

// shift adds to all delays: the box's clock is counted from another zero.
func (e *envelope) shift(by time.Duration) {
	e.least += by
	for i := range e.buckets {
		e.buckets[i].least += by
	}
}
