package nodetest

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
)

// Box is a counter box in a hall: a roller that turns, a clock of its own that is
// off and wraps, a cable that comes out, power that goes, and a wire that spoils what
// is on it. It is written from Protocol and the physics; times are s of the hall.
type Box struct {
	Rng     *rand.Rand
	Summed  bool // checksums, counts, hello
	Hz      float64
	Bits    int // 0 sends them all
	PPM     float64
	Joined  int     // passes in a line at most
	Runs    float64 // s for which it runs
	Turns   float64 // passes a second
	StartAt float64 // the start signal; 0 is none
	First   uint64  // ticks of the clock at the beginning

	// Faults: the part of the lines between SpoilFrom and SpoilTo that are garbled,
	// cut, run into the next, or are gone.
	Garbled, Cut, Merged, Gone float64
	SpoilFrom, SpoilTo         float64
	Restarts                   [][2]float64 // power off, on again
	CableOut                   [][2]float64
}

// Line is a line as it came out of the wire.
type Line struct {
	Written  string // by the box, without its line end
	Bytes    string // what of it arrives
	At       float64
	Passes   []Pass
	Intact   bool // as it was sent, and alone
	cableOut bool
}

// Pass is one pass that there was.
type Pass struct {
	Epoch int
	US    int64 // of the box's clock without wraps, in its epoch
	At    float64
}

// Truth is what there was in the hall.
type Truth struct {
	Passes []Pass
	Lines  []Line
	Epochs []float64 // where in the hall's time each clock began
	Starts []int64
}

// Play lets the box run.
func (b Box) Play() Truth {
	var out Truth
	boot := b.Rng.Uint32()
	epoch, began, first := 0, 0.0, b.First
	out.Epochs = []float64{0}
	count := 0
	ticksAt := func(at float64) uint64 {
		return first + uint64(math.Floor((at-began)*b.Hz*(1+b.PPM*1e-6)))
	}
	shown := func(ticks uint64) uint64 {
		if b.Bits == 0 || b.Bits == 64 {
			return ticks
		}
		return ticks & (1<<b.Bits - 1)
	}
	us := func(ticks uint64) int64 {
		// Exact: the whole seconds and the rest apart.
		hz := uint64(b.Hz)
		return int64(ticks/hz*1_000_000 + ticks%hz*1_000_000/hz)
	}
	send := func(at float64, body string, passes []Pass) {
		if b.Summed {
			body = fmt.Sprintf("%s*%04X", body, Checksum(body))
		}
		out.Lines = append(out.Lines, Line{Written: body, At: at, Passes: slices.Clone(passes), Intact: true})
	}
	hello := func(at float64) {
		if b.Summed {
			send(at, fmt.Sprintf("box v1 boot=%d bits=%d hz=%.0f sum=1", boot, b.Bits, b.Hz), nil)
		}
	}
	var pending []Pass
	var pendingTicks []uint64
	flush := func(at float64) {
		if len(pending) == 0 {
			return
		}
		body := fmt.Sprint(shown(pendingTicks[0]))
		for i := 1; i < len(pendingTicks); i++ {
			body += fmt.Sprintf("+%d", pendingTicks[i]-pendingTicks[i-1])
		}
		if b.Summed {
			body = fmt.Sprintf("%d@%s", (count-len(pending))&0xffff, body)
		}
		send(at, body, pending)
		pending, pendingTicks = nil, nil
	}
	now := func(at float64) {
		if b.Summed {
			send(at, fmt.Sprintf("now %d@%d", count&0xffff, shown(ticksAt(at))), nil)
		} else {
			send(at, fmt.Sprintf("now %d", shown(ticksAt(at))), nil)
		}
	}
	hello(0)
	nextSecond, nextPass, started := 0.5, 0.2+b.Rng.Float64()/b.Turns, b.StartAt == 0
	off := 0
	for {
		at := min(nextSecond, nextPass)
		if !started {
			at = min(at, b.StartAt)
		}
		if off < len(b.Restarts) && at >= b.Restarts[off][0] {
			pending, pendingTicks = nil, nil // what was not sent is gone with the power
			epoch, began, first, count = epoch+1, b.Restarts[off][1], uint64(b.Rng.IntN(5000)), 0
			boot++
			out.Epochs = append(out.Epochs, began)
			hello(began + 0.001)
			nextSecond = began + 1
			for nextPass < began+0.002 {
				nextPass += (0.95 + 0.1*b.Rng.Float64()) / b.Turns
			}
			off++
			continue
		}
		if at > b.Runs {
			break
		}
		switch {
		case !started && at == b.StartAt:
			started = true
			flush(at)
			out.Starts = append(out.Starts, us(ticksAt(at)))
			send(at, fmt.Sprintf("start %d", shown(ticksAt(at))), nil)
		case at == nextPass:
			ticks := ticksAt(at)
			p := Pass{epoch, us(ticks), at}
			out.Passes = append(out.Passes, p)
			pending, pendingTicks = append(pending, p), append(pendingTicks, ticks)
			count++
			if len(pending) >= b.Joined {
				flush(at)
			}
			nextPass += (0.95 + 0.1*b.Rng.Float64()) / b.Turns
		default:
			flush(at)
			hello(at)
			now(at)
			nextSecond++
		}
	}
	b.overTheWire(&out)
	return out
}
