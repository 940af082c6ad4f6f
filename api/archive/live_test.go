package archive_test

import (
	"context"
	"io"
	"sync"
	"testing"

	"benchmeet/api/archive"
	"benchmeet/api/store/sqlite"
	"benchmeet/domain/journal"
)

// A database that is checked and exported while a day is written into it is never
// found wrong, and every export can be imported.
func TestCareWhileTheDayGoesOn(t *testing.T) {
	s, path := newSQLite(t)
	d := newDay(t, s)
	beside, err := sqlite.OpenReadOnly(context.Background(), path)
	must(t, err)
	defer beside.Close()
	var (
		over = make(chan struct{})
		done sync.WaitGroup
		seen int
	)
	done.Go(func() {
		for last := false; !last; {
			select {
			case <-over:
				last = true // once more, with all of it
			default:
			}
			report, err := archive.Verify(t.Context(), beside, journal.Hash{})
			if err != nil || !report.OK() {
				t.Errorf("verify: %v, %v", report.Problems, err)
				return
			}
			if _, err := archive.Export(t.Context(), beside, everything(), io.Discard); err != nil {
				t.Errorf("export: %v", err)
				return
			}
			seen = report.RunsChecked
		}
	})
	d.play()
	close(over)
	done.Wait()
	if seen < 10 {
		t.Errorf("the last check looked at %d runs", seen)
	}
}
