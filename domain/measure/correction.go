package measure

// Kind says what was done about a stamp.
type Kind string

// The kinds of correction.
const (
	// KindExtra is a stamp that was left out.
	KindExtra Kind = "extra"
	// KindBridged is a pass that was missed and filled in.
	KindBridged Kind = "bridged"
)

// Correction is one thing that was put right, with its time in µs on the
// bench's clock (wraps taken out). The time of a bridged pass is where it
// should have been.
type Correction struct {
	AtUS int64 `json:"at_us"`
	Kind Kind  `json:"kind"`
}

// MostCorrections bounds the memory of a tracker: the list of a six-minute run
// at 20,000 rpm with 5 % extra stamps and 2 % missed ones fits in. What does
// not is counted but not listed, and flagged.
const MostCorrections = 16_384

// corrections collects the list in time order. An entry is twice the time, plus
// one for a bridged pass: eight bytes instead of the 24 of a Correction.
type corrections struct {
	list           []int64
	extra, bridged int
}

// noteExtra lists a stamp that is left out.
func (c *corrections) noteExtra(at int64) {
	c.extra++
	if len(c.list) < MostCorrections {
		c.list = append(c.list, at<<1)
	}
}

// noteBridged lists a pass that is filled in.
func (c *corrections) noteBridged(at int64) {
	c.bridged++
	if len(c.list) < MostCorrections {
		c.list = append(c.list, at<<1|1)
	}
}

// reset forgets everything but keeps the memory.
func (c *corrections) reset() {
	c.list, c.extra, c.bridged = c.list[:0], 0, 0
}

// expand returns the list in the form that readers see.
func (c *corrections) expand() []Correction {
	out := make([]Correction, len(c.list))
	for i, entry := range c.list {
		out[i] = Correction{entry >> 1, KindExtra}
		if entry&1 != 0 {
			out[i].Kind = KindBridged
		}
	}
	return out
}
