package node

import (
	"math/bits"
	"time"
)

const (
	// usualLate is how late a line may come behind the quickest ones, and early how
	// much before them, without a second look: the batching of a serial adapter is
	// 1 to 20 ms, a busy computer some hundred.
	usualLate = 250 * time.Millisecond
	early     = 50 * time.Millisecond
	// worstRate is how far a box's clock may be off: an RC oscillator is by 1 to
	// 10 % (common practice).
	worstRate = 0.12
	// burstLate is how unevenly lines may come behind a fault or a hold-up; a box tells
	// its clock once a second.
	burstLate = 1500 * time.Millisecond
	// behindUS is by how much a box may send its passes and its clock out of order,
	// and more than a spoiled number can be ahead of the clock unnoticed.
	behindUS = 150_000
	// littleUS is how far lines that agree may be behind the clock and be of it: what
	// all lines are late on a busy computer, in which a spoiled number can run ahead.
	littleUS = 2_000_000
	// agreePlain and agreeSum are how many lines in a row must agree on a new clock
	// before it is believed, without and with checksums; firstPlain and firstSum
	// where no clock was known.
	agreePlain, agreeSum = 3, 2
	firstPlain, firstSum = 2, 1
	// mostRow is how many late lines in a row say nothing of the quickest ones.
	mostRow = 50
	// mostHeld bounds the lines that wait for a word from the next ones.
	mostHeld = 64
	// mostUS is the largest stamp, 2^53-1 µs.
	mostUS = 1<<53 - 1
)

// heard is a line with the instant at which it arrived.
type heard struct {
	Line
	arrived time.Time
}

// way is how many ticks lie between the first and the last stamp of the line.
func (h heard) way() (ticks uint64) {
	for _, step := range h.Steps {
		ticks += step
	}
	return ticks
}

// settled is a line that is believed, with the unwrapped ticks of its first stamp.
type settled struct {
	heard
	ticks uint64
}

// outcome is what a line decides, for itself and for those that waited for it.
type outcome struct {
	restarted bool      // the clock began anew, before what is settled here
	settled   []settled // in the order of the clock
	spoiled   []heard   // lines that fit no clock
}

// follower follows a box's clock over its wraps, and tells a spoiled number from
// a clock that began anew. It knows the clock by what came last and by how long
// the quickest lines take: the numbers alone cannot tell a wrap, a restart and a
// lost digit apart. It is pure: the same lines with the same arrivals give the same.
type follower struct {
	hz     uint64
	bits   int  // 0 is not declared
	wide   bool // undeclared, and a number of more than 32 bits has fitted
	known  bool
	origin time.Time // arrivals are counted from here
	ticks  uint64    // of the last stamp that fitted, unwrapped
	at     time.Time // when that came
	delay  envelope
	row    int // late lines in a row
	// late are plain lines that came too late to be believed alone, others those
	// that do not fit the clock; each waits for the lines behind it.
	late, others []heard
}

func newFollower(hz uint64, width int) *follower { return &follower{hz: hz, bits: width} }

// us turns unwrapped ticks into µs, rounded down; beyond 2^53 µs it stays there.
func (f *follower) us(ticks uint64) int64 {
	hi, lo := bits.Mul64(ticks, 1_000_000)
	if hi >= f.hz {
		return mostUS
	}
	us, _ := bits.Div64(hi, lo, f.hz)
	return int64(min(us, mostUS))
}

// period is the number of ticks after which the clock begins again; 0 is never.
// One of undeclared width has 32 bits until a number is wider.
func (f *follower) period() uint64 {
	switch {
	case f.bits == 64 || f.bits == 0 && f.wide:
		return 0
	case f.bits == 0:
		return 1 << 32
	}
	return 1 << f.bits
}

// follow takes a line in.
func (f *follower) follow(h heard) outcome {
	if f.origin.IsZero() {
		f.origin = h.arrived
	}
	if !f.known {
		return f.doubt(h)
	}
	ticks, can := f.unwrap(h)
	if !can {
		return f.doubt(h)
	}
	slack := time.Duration(worstRate * float64(h.arrived.Sub(f.at)))
	delay := h.arrived.Sub(f.origin) - time.Duration(f.us(ticks+h.way()))*time.Microsecond
	switch {
	case delay < f.delay.least-early-slack:
		return f.doubt(h)
	case delay > f.delay.least+usualLate+slack && !h.Checked:
		return f.wait(h, ticks)
	}
	out := outcome{spoiled: f.others}
	f.others = nil
	if len(f.late) > 0 && f.row < 2 && !f.agree(f.late[0], h) {
		out.spoiled, f.late = append(out.spoiled, f.late...), nil
	}
	f.release(&out, ticks)
	f.row = 0
	f.accept(&out, h, ticks)
	return out
}

// unwrap finds the unwrapped ticks of a line on the clock that is known: the wrap
// that its arrival is nearest to. It is false where the clock cannot show the number.
func (f *follower) unwrap(h heard) (uint64, bool) {
	period := f.period()
	if f.bits == 0 && h.Ticks >= 1<<32 && !f.wide {
		if f.ticks >= 1<<32 {
			return 0, false // it has wrapped at 32 bits
		}
		period = 0
	}
	behind := f.behindTicks()
	if period == 0 {
		return h.Ticks, h.Ticks+behind >= f.ticks
	}
	if h.Ticks >= period {
		return 0, false
	}
	ahead := (h.Ticks - f.ticks) % period // of 2^n, so that the difference may run under
	if back := period - ahead; ahead > 0 && back <= behind && back <= f.ticks {
		return f.ticks - back, true
	}
	ticks := f.ticks + ahead
	expected := h.arrived.Sub(f.origin) - f.delay.least - time.Duration(f.us(ticks))*time.Microsecond
	whole := time.Duration(f.us(period)) * time.Microsecond
	if wraps := (expected + whole/2) / whole; wraps > 0 {
		ticks += uint64(wraps) * period
	}
	return ticks, true
}

func (f *follower) behindTicks() uint64 { return behindUS * f.hz / 1_000_000 }

// accept takes a line as one of the clock.
func (f *follower) accept(out *outcome, h heard, ticks uint64) {
	last := ticks + h.way()
	if f.bits == 0 && h.Ticks >= 1<<32 {
		f.wide = true
	}
	f.known = true
	f.ticks, f.at = max(f.ticks, last), h.arrived
	if since := h.arrived.Sub(f.origin); f.row == 0 || f.row > mostRow || !f.delay.known {
		f.delay.add(since, since-time.Duration(f.us(last))*time.Microsecond)
	}
	out.settled = append(out.settled, settled{h, ticks})
}

// wait holds a line that came late: a pipe or a busy computer may have held it up,
// or its number is spoiled. The next one tells: a clock runs up, and of lines that
// were held up there are several, or the next is not far.
func (f *follower) wait(h heard, ticks uint64) outcome {
	var out outcome
	f.row++
	f.release(&out, ticks)
	f.late = append(f.late, h)
	return out
}

// release believes the late lines up to the given ticks, and gives up those beyond.
func (f *follower) release(out *outcome, upTo uint64) {
	for _, h := range f.late {
		if ticks, can := f.unwrap(h); can && ticks <= upTo {
			f.accept(out, h, ticks)
		} else {
			out.spoiled = append(out.spoiled, h)
		}
	}
	f.late = nil
}

// doubt takes a line that does not fit the clock, or the first ones: where enough
// of them agree, the clock is theirs.
func (f *follower) doubt(h heard) outcome {
	chain := []heard{h}
	var alone []heard
	for i := len(f.others) - 1; i >= 0; i-- {
		if f.agree(f.others[i], chain[0]) {
			chain = append([]heard{f.others[i]}, chain...)
		} else {
			alone = append([]heard{f.others[i]}, alone...)
		}
	}
	if len(chain) < f.needed(h) {
		f.others = append(f.others, h)
		if len(f.others) > mostHeld {
			out := outcome{spoiled: f.others[:1:1]}
			f.others = f.others[1:]
			return out
		}
		return outcome{}
	}
	out := outcome{spoiled: append(alone, f.late...)}
	if back, little := f.back(chain[0]); f.known && little && !h.Checked {
		// The one that was believed last was spoiled: it ran ahead while all came late. One
		// with a checksum cannot have been, and a box may start again soon after a start.
		f.ticks -= back
	} else if f.known && (chain[0].Ticks < f.ticks%f.whole()) {
		out.restarted = true
		f.reset()
		f.origin = chain[0].arrived
	} else if f.known {
		// Ahead of what the arrivals said: this computer slept, or the lines before
		// were held up. It is the same clock.
		f.delay = envelope{}
	}
	f.others, f.late, f.row = nil, nil, 0
	for _, h := range chain {
		ticks := h.Ticks
		if f.known {
			if on, can := f.unwrapForward(h); can {
				ticks = on
			}
		}
		f.accept(&out, h, ticks)
	}
	return out
}

// back is by how many ticks a line is behind the clock, and whether that is little.
func (f *follower) back(h heard) (ticks uint64, little bool) {
	if h.Ticks >= f.whole() {
		return 0, false
	}
	ticks = (f.ticks - h.Ticks) % f.whole() // 2^n, or all
	return ticks, ticks <= f.ticks && ticks <= littleUS*f.hz/1_000_000
}

// whole is the period, or more than any number where there is none.
func (f *follower) whole() uint64 {
	if p := f.period(); p > 0 {
		return p
	}
	return 1<<64 - 1
}

// unwrapForward goes to the next time that the clock shows the number.
func (f *follower) unwrapForward(h heard) (uint64, bool) {
	p := f.period()
	if p == 0 || h.Ticks >= p {
		return h.Ticks, h.Ticks >= f.ticks
	}
	return f.ticks + (h.Ticks-f.ticks)%p, true
}

// needed is how many lines in a row make a clock.
func (f *follower) needed(h heard) int {
	switch {
	case f.known && h.Checked:
		return agreeSum
	case f.known:
		return agreePlain
	case h.Checked:
		return firstSum
	}
	return firstPlain
}

// agree says whether two lines can be of one clock: it ran up between them by about
// what the arrivals say.
func (f *follower) agree(a, b heard) bool {
	last := a.Ticks + a.way()
	if f.bits > 0 && f.bits < 64 {
		last %= f.whole()
	}
	ran := b.Ticks - last
	if b.Ticks < last {
		if f.bits == 64 || f.bits == 0 && f.wide {
			return false
		}
		ran %= f.whole()
	}
	came := b.arrived.Sub(a.arrived)
	apart := time.Duration(f.us(ran+b.way()))*time.Microsecond - came
	allowed := burstLate + time.Duration(worstRate*float64(came))
	return -allowed <= apart && apart <= allowed
}

// reset forgets the clock; what is declared of it stays.
func (f *follower) reset() { *f = follower{hz: f.hz, bits: f.bits} }

// giveUp hands back what still waits, when no further line will come.
func (f *follower) giveUp() []heard {
	waiting := append(f.late, f.others...)
	f.late, f.others = nil, nil
	return waiting
}
