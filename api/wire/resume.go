package wire

import (
	"benchmeet/api/gen"
	"benchmeet/domain/meet"
)

// ReadResume reads how a meet goes on; without a body batteries are checked again.
func ReadResume(b *gen.ResumeBody) meet.Resume {
	return meet.Resume{KeepBatteries: b != nil && b.Batteries != nil && *b.Batteries == gen.Keep}
}
