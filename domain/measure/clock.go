package measure

// clock undoes the wraps of a counter.
type clock struct {
	period int64 // µs after which the counter begins again; 0 means never
	seen   int64 // the latest stamp, unwrapped, genuine or not
	any    bool
	wraps  int

	far     int64 // a stamp so far ahead that the next one has to confirm it
	farther bool  // there is one
}

// newClock returns the clock of a bench. A 16-bit counter counts its own
// steps, wider ones count µs: so do the usual boards (common practice).
func newClock(b Bench) clock {
	switch b.ClockBits {
	case 16:
		return clock{period: int64(65536*b.StampUS + 0.5)}
	case 32:
		return clock{period: 1 << 32}
	default:
		return clock{}
	}
}

// verdict says what the clock makes of a stamp.
type verdict int

const (
	goodStamp verdict = iota
	backwardStamp
	impossibleStamp
)

// unwrap turns a stamp into a time that never wraps, given the offset of the
// wraps so far, and returns the new offset. A step back is a wrap if the way
// forward over the wrap is shorter than half the counter's range; otherwise
// the stamp runs backwards and is no good.
func (c *clock) unwrap(stamp, offset int64) (at, newOffset int64, v verdict) {
	if stamp < 0 || stamp >= mostStamp {
		return 0, offset, impossibleStamp
	}
	at = stamp + offset
	if c.any && at < c.seen {
		over := at + c.period
		if c.period == 0 || stamp >= c.period || over < c.seen || over-c.seen > c.period/2 {
			return 0, offset, backwardStamp
		}
		offset += c.period
		at = over
		c.wraps++
	}
	c.any, c.seen = true, at
	return at, offset, goodStamp
}

// narrow reports whether the counter wraps so often that a slow roller makes whole
// wraps between two stamps, which nobody can see in them.
func (c *clock) narrow() bool {
	return c.period > 0 && c.period <= 1<<24
}

// peek is unwrapAfter, but changes nothing.
func (c clock) peek(last, stamp, offset int64) (int64, int64, verdict) {
	return c.unwrapAfter(last, stamp, offset)
}

// unwrapAfter is unwrap for a clock that was not told of the regular stamps.
func (c *clock) unwrapAfter(last, stamp, offset int64) (int64, int64, verdict) {
	if c.any {
		c.seen = max(c.seen, last)
	}
	return c.unwrap(stamp, offset)
}
