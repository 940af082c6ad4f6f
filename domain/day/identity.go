package day

import (
	"fmt"

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

// MaxID bounds the length of an identity that a client chooses.
const MaxID = 64

// maxRunID bounds the length of a run's id.
const maxRunID = 160

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

// HeatIDOf is the id of a heat: division, stage, round and number, all from 1.
func HeatIDOf(d DivisionID, stage, round, number int) HeatID {
	return HeatID(fmt.Sprintf("%s-%d.%d.%d", d, stage, round, number))
}

// RunIDOf is the id under which a bench sends an attempt of a lane; lanes count from 0,
// attempts from 1.
func RunIDOf(h HeatID, lane, attempt int) RunID {
	return RunID(fmt.Sprintf("%s-L%d-%d", h, lane+1, attempt))
}

// CheckCar refuses a text that cannot be the id of a car.
func CheckCar(id CarID) error { return CheckID("car", string(id)) }

// CheckEntrant refuses a text that cannot be the id of a person.
func CheckEntrant(id EntrantID) error { return CheckID("person", string(id)) }

// CheckMeet refuses a text that cannot be the id of a meet.
func CheckMeet(id string) error { return CheckID("meet", id) }

// CheckRun refuses a text that cannot be the id of a run. It may be longer than
// other ids, because it is made of its heat's.
func CheckRun(id string) error {
	if id == "" || len(id) > maxRunID || !isID(id) {
		return refusal.New("bad-id", "what", "run", "id", id[:min(len(id), MaxID)])
	}
	return nil
}
