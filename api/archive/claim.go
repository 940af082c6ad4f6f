package archive

import (
	"crypto/sha256"
	"encoding/hex"

	"benchmeet/domain/club"
	"benchmeet/domain/day"
	"benchmeet/domain/evidence"
	"benchmeet/domain/measure"
)

// claim is what an event says of a run that a bench measured; the trace must
// bear it out.
type claim struct {
	stream  string
	run     day.RunID
	bench   day.BenchID
	boot    string
	trace   string
	figures measure.Figures
	atUS    int64
	// sent are the names under which the run may have been sent, with the
	// conditions that each would have been measured under.
	sent []sentAs
}

// sentAs is a name with its conditions; known is false where only the club's log
// tells them.
type sentAs struct {
	run        string
	conditions evidence.Conditions
	known      bool
}

// ofMeet reads the claim of a meet's event, against the state before it. A hand
// count claims no trace.
func ofMeet(s *day.State, e day.RunRecorded) (claim, bool) {
	if e.Source == day.SourceHand {
		return claim{}, false
	}
	c := claim{run: e.ID, bench: e.Bench, boot: e.Boot, trace: e.Trace, figures: e.Figures}
	for _, name := range evidence.NamesOfEvent(e) {
		conditions, known := evidence.InMeet(s, name, e.Bench)
		c.sent = append(c.sent, sentAs{string(name), conditions, known})
	}
	return c, true
}

// again reads the claim of a run that was measured again, against the state
// before it: the same stamps, under the settings of that moment.
func again(s *day.State, e day.RunMeasuredAgain) claim {
	r := s.Runs[e.Run]
	c, _ := ofMeet(s, day.RunRecorded{
		ID: r.ID, Bench: r.Bench, Boot: r.Boot, Trace: r.Trace, Figures: e.Figures, Sent: r.Sent, Aged: day.Aged{Old: r.Old},
	})
	return c
}

// ofClub reads the claim of a practice run.
func ofClub(s *club.State, e club.PracticeRecorded) claim {
	c := claim{run: e.ID, bench: e.Bench, boot: e.Boot, trace: e.Trace, figures: e.Figures}
	for _, name := range evidence.NamesOfPractice(e) {
		c.sent = append(c.sent, sentAs{string(name), evidence.InClub(s, name, e.Bench, s.Cars.At(e.Car).Number), true})
	}
	return c
}

// waits says whether the club's log has to tell the conditions.
func (c claim) waits() bool {
	for _, s := range c.sent {
		if !s.known {
			return true
		}
	}
	return false
}

// hash is the SHA-256 of its trace; zero where the event has none that can be read,
// which no trace has.
func (c claim) hash() (hash [sha256.Size]byte) {
	if bytes, err := hex.DecodeString(c.trace); err == nil && len(bytes) == len(hash) {
		copy(hash[:], bytes)
	}
	return hash
}
