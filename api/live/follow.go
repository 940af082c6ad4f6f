package live

import (
	"context"
	"fmt"
	"runtime/debug"
	"time"
)

// A change after a quiet moment is shown at once. Then who shows it rests, so that changes
// that follow are shown together where showing them takes long: restTimes as long as that
// took, which leaves it a tenth of one processor, and no longer than restAtMost, an
// eye's blink.
const (
	restTimes  = 9
	restAtMost = telemetryEvery
)

// Follow has a source looked at after its changes, when somebody wakes it, and every so often
// (0 is never), until ctx ends or look says that it is not to go on.
func Follow(ctx context.Context, changes, wake <-chan struct{}, every time.Duration, look func() (on bool)) {
	var tick <-chan time.Time
	if every > 0 {
		ticker := time.NewTicker(every)
		defer ticker.Stop()
		tick = ticker.C
	}
	for {
		select {
		case <-ctx.Done():
			return
		case <-changes:
		case <-wake:
		case <-tick:
		}
		began := time.Now()
		if !look() {
			return
		}
		select {
		case <-ctx.Done():
			return
		case <-time.After(min(restAtMost, restTimes*time.Since(began))):
		}
	}
}

// Fault, deferred, makes an error of a panic: a fault of a rule must fail what met it and
// not the venue.
func Fault(err *error) {
	if what := recover(); what != nil {
		*err = fmt.Errorf("this met a fault of the program: %v\n%s", what, debug.Stack())
	}
}
