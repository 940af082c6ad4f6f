package sqlite

import (
	"context"
	"time"
)

// checkpointEvery is how far the file itself may be behind what was acknowledged, while
// nobody reads an older version. Somebody who copies the file alone, in spite of what
// is written everywhere, has a day without its last moment and not an empty one.
const checkpointEvery = time.Second

// checkpoints moves the write-ahead log into the file now and then, beside readers and
// the writer, until the store closes. SQLite itself would wait for a thousand pages: a
// small day.
func (s *Store) checkpoints() {
	tick := time.NewTicker(checkpointEvery)
	defer tick.Stop()
	var done int64
	for {
		select {
		case <-s.closing.Done():
			return
		case <-tick.C:
		}
		written := s.writer.commits.Load()
		if written == done {
			continue
		}
		var busy, frames, moved int
		// Only the log moves, which is no change: a reading connection may do that.
		err := s.reading.QueryRowContext(context.WithoutCancel(s.closing), `PRAGMA wal_checkpoint(PASSIVE)`).Scan(&busy, &frames, &moved)
		if err == nil && busy == 0 && moved == frames {
			done = written
		}
	}
}
