package day

import (
	"fmt"
	"strconv"
	"strings"

	"benchmeet/domain/refusal"
)

// Identities. Each is a short text of letters, digits, dots, hyphens and
// underscores, so that it can stand in an address; none is ever a name of a
// person.
type (
	// DivisionID names a division, for example "junior".
	DivisionID string
	// BenchID names a bench of the club, for example "b4".
	BenchID string
	// EntryID names an entry of the meet.
	EntryID string
	// EntrantID names a person of the club.
	EntrantID string
	// CarID names a car of the club.
	CarID string
	// HeatID names a heat: division, stage, round and number, "junior-1.2.3".
	HeatID string
	// RunID names a run: its heat, lane and attempt, "junior-1.2.3-L2-1", or
	// whatever the counter box chose in practice.
	RunID string
	// ProtestID names a protest.
	ProtestID string
)

// Bounds of what stands on cars, in addresses and in lists.
const (
	MaxID          = 64   // bytes of an identity that a client chooses
	MaxSentRun     = 128  // bytes of the id under which a bench sends a run
	MaxStartNumber = 9999 // what fits on a car
	ThirdLeg       = 3    // of two that stand even
	MostInstrument = 40   // bytes of the name of an instrument

	MostItemValue = 1_000_000_000 // of a measured item of a checklist: 1 t, 1 km
)

// CheckID refuses a text that cannot be an identity; what says of which thing.
func CheckID(what, id string) error {
	if id == "" || len(id) > MaxID || !isID(id) {
		return refusal.New("bad-id", "what", what, "id", id[:min(len(id), MaxID)])
	}
	return nil
}

func isID(id string) bool {
	for i, r := range id {
		letter := r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z' || r >= '0' && r <= '9'
		if !letter && (i == 0 || r != '.' && r != '-' && r != '_') {
			return false
		}
	}
	return true
}

// Heat is the id of a heat of the division: its stage, round and number, all from 1.
func (d DivisionID) Heat(stage, round, number int) HeatID {
	return HeatID(fmt.Sprintf("%s-%d.%d.%d", d, stage, round, number))
}

// Round names a round of the division: its stage and number, both from 1.
func (d DivisionID) Round(stage, round int) string { return fmt.Sprintf("%s-%d.%d", d, stage, round) }

// Run is the id under which a bench sends an attempt of a lane of the heat; lanes count
// from 0, attempts from 1.
func (heat HeatID) Run(lane, attempt int) RunID {
	return RunID(fmt.Sprintf("%s-L%d-%d", heat, lane+1, attempt))
}

// armed takes the id of an armed run apart: its heat, lane and attempt as in
// [HeatID.Run]. Of another id it is anything.
func (run RunID) armed() (heat HeatID, lane, attempt int) {
	at := strings.LastIndex(string(run), "-L")
	if at < 0 {
		return "", -1, 0
	}
	of, nth, _ := strings.Cut(string(run[at+len("-L"):]), "-")
	lane, _ = strconv.Atoi(of)
	attempt, _ = strconv.Atoi(nth)
	return HeatID(run[:at]), lane - 1, attempt
}

// OfLane says whether the id is made as [HeatID.Run] makes it: only such a run can
// have been armed by a lane.
func (run RunID) OfLane() bool {
	_, lane, attempt := run.armed()
	return lane >= 0 && attempt > 0
}

// Check refuses a text under which no bench can send a run. It may be longer than other
// ids, because it is made of its heat's, and is shorter than what addresses take, because
// a run whose id is taken is recorded with its boot id behind it.
func (run RunID) Check() error {
	id := string(run)
	if id == "" || len(id) > MaxSentRun || !isID(id) {
		return refusal.New("bad-run-id", "id", id[:min(len(id), MaxID)], "most", MaxSentRun)
	}
	return nil
}
