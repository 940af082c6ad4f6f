package auth_test

import (
	"fmt"
	"testing"
	"time"

	"benchmeet/api/auth"
)

// atTheDoor is what tries passwords by a clock of its own.
type atTheDoor struct {
	*auth.Waits
	at time.Time
}

func newDoor() *atTheDoor {
	d := &atTheDoor{at: time.Date(2027, 4, 17, 9, 0, 0, 0, time.UTC)}
	d.Waits = auth.NewWaits(func() time.Time { return d.at })
	return d
}

// One who mistypes waits not at all, then longer each time, and gets in afterwards.
func TestWaitsOfOne(t *testing.T) {
	d := newDoor()
	for n, seconds := range []int{0, 0, 1, 2, 4, 8, 16, 32, 60, 60} {
		wait := time.Duration(seconds) * time.Second
		if got := d.Try("table", "192.0.2.1"); got != 0 {
			t.Fatalf("try %d has to wait %v more", n, got)
		}
		if got := waits(d, "table", "192.0.2.1"); got != wait {
			t.Fatalf("after try %d a wait of %v, want %v", n, got, wait)
		}
		d.at = d.at.Add(wait)
	}
	if got := d.Try("table", "192.0.2.1"); got != 0 {
		t.Fatalf("after the wait %v more", got)
	}
	d.Right("table", "192.0.2.1")
	if got := d.Try("table", "192.0.2.1"); got != 0 {
		t.Errorf("who signed in waits %v", got)
	}
}

// waits is what a try would have to wait, without one: zero is told by a try alone.
func waits(d *atTheDoor, account, address string) time.Duration {
	if !d.Waiting(account, address) {
		return 0
	}
	return d.Try(account, address)
}

// Whatever strangers do, an address from which the account has signed in does not wait.
func TestStrangersLockNobodyOut(t *testing.T) {
	d := newDoor()
	d.Try("table", "192.0.2.1")
	d.Right("table", "192.0.2.1")
	for n := range 20_000 {
		d.Try("table", fmt.Sprintf("198.51.%d.%d", n/250%250, n%250))
		if n%1000 == 0 {
			d.at = d.at.Add(30 * time.Second)
		}
		if n%7 == 0 {
			d.Try(fmt.Sprint("account-", n), "203.0.113.9")
		}
	}
	if got := d.Try("table", "192.0.2.1"); got != 0 {
		t.Errorf("the known address waits %v", got)
	}
}

// One who comes from elsewhere while strangers guess waits a minute at most, and once:
// what they go on doing does not lengthen it.
func TestAnUnknownAddressHasItsTurn(t *testing.T) {
	d := newDoor()
	guess := func() {
		for n := range 50 {
			d.Try("table", fmt.Sprintf("198.51.100.%d", n))
		}
	}
	guess()
	wait := d.Try("table", "192.0.2.7")
	if wait <= 0 || wait > time.Minute {
		t.Fatalf("a newcomer waits %v while somebody guesses", wait)
	}
	for left := wait; left > 0; left -= time.Second {
		if got := d.Try("table", "192.0.2.7"); got != left {
			t.Fatalf("the wait became %v, want %v", got, left)
		}
		d.at = d.at.Add(time.Second)
		guess()
	}
	if got := d.Try("table", "192.0.2.7"); got != 0 {
		t.Fatalf("its turn came, and it waits %v more", got)
	}
	d.Right("table", "192.0.2.7")
	guess()
	if got := d.Try("table", "192.0.2.7"); got != 0 {
		t.Errorf("known by now, it waits %v", got)
	}
}

// A guesser at one address has a guess a minute: one account or many, one by one or at once.
func TestGuessesAnHour(t *testing.T) {
	for _, accounts := range []int{1, 5} {
		d := newDoor()
		looked := 0
		for range 60 * 60 {
			for n := range accounts * 4 {
				if d.Try(fmt.Sprint("account-", n%accounts), "198.51.100.1") == 0 {
					looked++
				}
			}
			d.at = d.at.Add(time.Second)
		}
		// Three of each are free at most, then 1, 2, 4 … 32 s, then one a minute.
		if most := accounts * (3 + 6 + 60); looked > most || looked < accounts*50 {
			t.Errorf("%d guesses an hour at %d accounts, want at most %d", looked, accounts, most)
		}
	}
}

// What is an hour ago counts for nothing; and this machine never waits.
func TestWaitsForgetAndSpareThisMachine(t *testing.T) {
	d := newDoor()
	for range 100 {
		d.Try("table", "192.0.2.1")
		d.at = d.at.Add(time.Minute)
	}
	d.at = d.at.Add(time.Hour)
	for _, address := range []string{"192.0.2.1", "192.0.2.2"} {
		if got := d.Try("table", address); got != 0 {
			t.Errorf("an hour later %s waits %v", address, got)
		}
	}
	for range 100 {
		for _, address := range []string{"127.0.0.1", "::1", "::ffff:127.0.0.1"} {
			if got := d.Try("table", address); got != 0 {
				t.Fatalf("%s waits %v", address, got)
			}
		}
	}
}

// A clock that is set back makes nobody wait for longer than the longest wait.
func TestWaitsOfAClockSetBack(t *testing.T) {
	d := newDoor()
	for range 20 {
		d.Try("table", "192.0.2.1")
		d.at = d.at.Add(30 * time.Second)
	}
	d.at = d.at.Add(-24 * time.Hour)
	if got := d.Try("table", "192.0.2.1"); got > time.Minute {
		t.Errorf("it waits %v", got)
	}
}
