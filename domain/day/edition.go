package day

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"

	"benchmeet/domain/refusal"
)

// edition names a thing that is saved as a whole by what it says: two that say the same
// have the same edition, whoever wrote them. It is no secret and no proof.
func edition(thing any) string {
	text, err := json.Marshal(thing)
	if err != nil {
		return "" // facts are always JSON
	}
	sum := sha256.Sum256(text)
	return hex.EncodeToString(sum[:6])
}

// Edition names what ChangeEntry may change of an entry.
func (e Entry) Edition() string {
	return edition([]any{e.Home(), e.StartNumber, e.Car, e.Team})
}

// Edition names a division as it is planned.
func (d Division) Edition() string { return edition(d) }

// Edition names a plan.
func (p Plan) Edition() string { return edition(p) }

// Edition names rules.
func (r Rules) Edition() string { return edition(r) }

// Edition names the settings of a bench, without whether it is in service.
func (b Bench) Edition() string {
	b.OutOfService, b.OutReason = false, ""
	return edition(b)
}

// CheckEdition refuses a save that rests on another edition than stands there now. An
// empty one rests on nothing: whoever sends it replaces what is there.
func CheckEdition(rests, now string) error {
	if rests != "" && rests != now {
		return refusal.New("saved-since")
	}
	return nil
}
