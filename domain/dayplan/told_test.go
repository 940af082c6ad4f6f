package dayplan

import "testing"

// TestTellingGoesByThePace: after an hour that went ten minutes quicker than planned, a desk
// that plans again tells the heats of two hours later earlier by more than ten minutes, for the
// rest goes as quickly; by no more than that pace makes of it, and the next heat by the ten
// minutes alone. After an hour that went as planned it tells what was planned, and after one
// that went ten minutes slower ten minutes more.
func TestTellingGoesByThePace(t *testing.T) {
	const minute = 60 * int64(secondUS)
	begin := int64(1_000) * 300 * secondUS
	told := func(early int64) (next, last int64) {
		r := &Rest{AtUS: begin, Rounds: []Round{{Heats: []int{0, 1, 2}}}, Heats: make([]Heat, 3)}
		g := newGame(r)
		g.telling = telling{
			planned: []int64{begin + 70*minute, begin + 80*minute, begin + 200*minute}, rounds: []int64{begin + 70*minute},
			at: []int64{begin + minute}, not: make([]int64, 3),
		}
		g.lines[0].open = 1
		g.now = begin + 70*minute - early
		g.called, g.start[0], g.end[0] = []int{0}, g.now, g.now+5*minute
		g.tell()
		return g.telling.not[1] - begin, g.telling.not[2] - begin
	}
	if next, last := told(0); next != 80*minute || last != 200*minute {
		t.Errorf("as planned, the next is told for minute %d and the last for %d", next/minute, last/minute)
	}
	if next, last := told(-10 * minute); next != 90*minute || last != 210*minute {
		t.Errorf("ten minutes late, the next is told for minute %d and the last for %d", next/minute, last/minute)
	}
	// 70 minutes of the plan took 60: at that pace the 130 left of it take 111, to minute 171.
	if next, last := told(10 * minute); next < 65*minute || next > 70*minute || last < 170*minute || last > 185*minute {
		t.Errorf("ten minutes early, the next is told for minute %d and the last for %d", next/minute, last/minute)
	}
}
