package node

import (
	"log/slog"
	"strings"
	"time"
)

// Reading is what one stamp of a counter box says, with the instant at which it
// arrived here, or would have in a line of its own.
type Reading struct {
	Kind    Kind  // Pass, Now or Start
	US      int64 // µs of the box's clock, without wraps
	Arrived time.Time
}

// hearer is who hears what a box has to say.
type hearer interface {
	// read takes a stamp; they come in the order of the box's clock, but for a few ms.
	read(Reading)
	// restarted says that the box's clock began anew before the next reading.
	restarted()
	// lost says that so many passes are missing, or lines that may have been some.
	lost(passes int)
	// unread says that a pass came that cannot be read before the box says hello.
	unread()
	// compared says what the box's clock gains on this computer's.
	compared(Rate)
}

// plainAgain is how many lines without a checksum in a row say that another box,
// one without checksums, is at the line now.
const plainAgain = 50

// box makes readings of the lines of one input of a counter box. It is pure but
// for its log: the same lines with the same arrivals give the same readings.
type box struct {
	input  int
	to     hearer
	log    *slog.Logger
	follow *follower
	rates  rates
	// greeting is what the box said of itself; bootKnown is false where the clock
	// began anew since, so that another boot number is no news.
	greeting  Greeting
	greeted   bool
	bootKnown bool
	// once is a hello without a checksum: it counts when the same comes again.
	once      *Greeting
	summed    bool // a right checksum has come
	plain     int  // lines without one in a row since
	counting  bool // the box counts its passes
	countOn   bool // and expected is the next one
	expected  uint16
	unheard   bool // told that a hello is missing
	strangers bool // told that lines of other inputs come
}

func newBox(input int, to hearer, log *slog.Logger) *box {
	return &box{input: max(input, 1), to: to, log: log, follow: newFollower(usualHz, 0)}
}

// line takes a line in, with the instant at which it arrived.
func (b *box) line(text string, arrived time.Time) {
	if strings.TrimSpace(text) == "" {
		return
	}
	l, err := ParseLine(text)
	if err == nil && !l.Checked && b.summed {
		if b.plain++; b.plain < plainAgain {
			err = errLine(text, "it has no checksum as the lines before: it was cut")
		} else {
			b.log.Warn("the box at the line sends no checksums any more; it is taken for another one")
			b.another()
		}
	}
	if err != nil {
		b.log.Warn("a line was left out", "why", err)
		b.spoiled()
		return
	}
	if l.Checked {
		b.dropPlain()
	}
	switch l.Kind {
	case Say:
		b.log.Info("the counter box says", "words", l.Words)
	case Hello:
		b.hello(l)
	default:
		b.stamp(heard{l, arrived})
	}
}

// dropPlain notes that lines have checksums. Plain ones that wait for others to
// agree with them were cut.
func (b *box) dropPlain() {
	b.plain = 0
	if b.summed {
		return
	}
	b.summed = true
	if !b.greeted { // else a clock is known that a plain line cannot have moved
		b.follow = newFollower(b.follow.hz, b.follow.bits)
	}
}

// another forgets all that was known of the box.
func (b *box) another() {
	*b = box{input: b.input, to: b.to, log: b.log, follow: newFollower(usualHz, 0)}
	b.to.restarted()
}

// hello takes in what the box says of itself.
func (b *box) hello(l Line) {
	g := l.Hello
	if !l.Checked && (b.once == nil || *b.once != g) {
		b.once = &g // spoiled, it could say anything: the same must come twice
		return
	}
	switch {
	case g.Sums && !l.Checked:
		b.log.Warn("the counter box says that every line has a checksum, and its hello has none; see: benchmeet help node")
		return
	case g.Inputs < b.input && !b.greeted:
		b.log.Error("the counter box has fewer inputs than the one that is asked for", "inputs", g.Inputs, "input", b.input)
	}
	changed := g.Hz != b.follow.hz || g.Bits != b.follow.bits
	otherBoot := b.greeted && b.bootKnown && g.HasBoot && g.Boot != b.greeting.Boot
	before := b.greeted
	b.greeting, b.greeted, b.bootKnown = g, true, g.HasBoot
	switch {
	case otherBoot || changed && before:
		b.anew()
		b.follow = newFollower(g.Hz, g.Bits)
		b.to.restarted()
	case changed:
		known := b.follow.known
		b.follow = newFollower(g.Hz, g.Bits)
		b.rates = rates{}
		if known { // plain numbers were read as µs
			b.to.restarted()
		}
	}
}

// anew begins a new clock: counts are from 0 again.
func (b *box) anew() {
	b.rates = rates{}
	b.expected, b.countOn = 0, b.counting
}

// stamp takes a line with stamps in.
func (b *box) stamp(h heard) {
	if (h.Checked || h.Counted) && !b.greeted {
		if !b.unheard {
			b.log.Info("waiting for the counter box to say hello: its lines have checksums or counts, and only the hello says what a tick is")
			b.unheard = true
		}
		if h.Kind == Pass && h.Input == b.input {
			b.to.unread()
		}
		return
	}
	out := b.follow.follow(h)
	for _, h := range out.spoiled {
		b.log.Warn("a line was left out: its number fits no clock", "ticks", h.Ticks)
		b.gone(h)
	}
	if out.restarted {
		b.anew()
		b.bootKnown = false
		b.to.restarted()
	}
	for _, s := range out.settled {
		b.settled(s)
	}
}

// settled hands on a line that is believed.
func (b *box) settled(s settled) {
	last := b.follow.us(s.ticks + s.way())
	if b.follow.known {
		at := s.arrived.Sub(b.follow.origin)
		b.rates.add(at, last)
		if rate, due := b.rates.due(at); due {
			b.to.compared(rate)
		}
	}
	if s.Kind != Start && s.Input != b.input {
		if !b.strangers {
			b.log.Info("lines of other inputs come too; they are another bench's", "input", s.Input, "read here", b.input)
			b.strangers = true
		}
		s.Kind, s.Counted, s.Steps, s.ticks = Now, false, nil, s.ticks+s.way() // the clock is one
	}
	b.counts(s)
	// The line came when its last stamp was made; one before it would have come so
	// much earlier.
	ticks, k := s.ticks, 0
	for {
		us := b.follow.us(ticks)
		b.to.read(Reading{s.Kind, us, s.arrived.Add(-time.Duration(last-us) * time.Microsecond)})
		if k == len(s.Steps) {
			return
		}
		ticks += s.Steps[k]
		k++
	}
}

// counts compares a line's count with the one before.
func (b *box) counts(s settled) {
	if !s.Counted {
		return
	}
	if missing := s.Count - b.expected; b.countOn && missing > 0 && missing < 1<<15 {
		b.log.Warn("passes are missing", "passes", missing)
		b.to.lost(int(missing))
	}
	b.counting, b.countOn, b.expected = true, true, s.Count
	if s.Kind == Pass {
		b.expected += uint16(1 + len(s.Steps))
	}
}

// gone counts a line that was understood and is not used: one of another input, or
// one that only tells the time, takes no pass with it.
func (b *box) gone(h heard) {
	if h.Kind == Pass && h.Input == b.input {
		b.spoiled()
	}
}

// spoiled counts a line that may have been a pass, where the box does not.
func (b *box) spoiled() {
	if !b.counting {
		b.to.lost(1)
	}
}

// closed says that the line to the box was lost: what waits is not decided any
// more, and a box that does not count may have passes gone.
func (b *box) closed() {
	for _, h := range b.follow.giveUp() {
		b.gone(h)
	}
	b.spoiled()
}
