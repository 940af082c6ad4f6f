package node

import (
	"testing"
	"time"
)

// A box that tells its clock is lost when it stops; one that only writes passes may just
// have none to write.
func TestAQuietLineIsLostOnlyWhereTheBoxTalks(t *testing.T) {
	at := func(s float64) time.Time {
		return time.Unix(1_800_000_000, 0).Add(time.Duration(s * float64(time.Second)))
	}
	var s lineState
	says := func(now float64, want bool) {
		t.Helper()
		if got := s.isLost(at(now)); got != want {
			t.Errorf("at %g s lost is %v, want %v", now, got, want)
		}
	}
	says(0, false)
	s.lost() // it could not be opened
	says(1, true)
	s.opened(at(2))
	s.came("123456", at(3))
	says(600, false)
	s.came("now 1000000", at(600))
	says(700, false) // once tells nothing of how often it comes
	s.came("now 2000000", at(701))
	s.came("now 3000000", at(702))
	says(703.9, false)
	says(704.1, true)
	s.came("3500000", at(705))
	says(706, false)
	s.lost()
	says(706, true)
	s.opened(at(707))
	says(900, false) // another box may be there
}
