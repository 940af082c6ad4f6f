package auth_test

import (
	"context"
	"encoding/base64"
	"encoding/hex"
	"errors"
	"strings"
	"sync"
	"testing"
	"time"

	"benchmeet/api/auth"
)

// A password opens what was made of it, and no other does; two hashes of one differ.
func TestPassword(t *testing.T) {
	p := auth.NewPasswords()
	const word = "rollers stop before hands go in"
	one, err := p.Hash(t.Context(), word)
	if err != nil {
		t.Fatal(err)
	}
	other, err := p.Hash(t.Context(), word)
	if err != nil || one == other {
		t.Fatalf("two hashes of one password are alike: %q, %v", one, err)
	}
	// OWASP Password Storage Cheat Sheet, argon2id: m=19456 (19 MiB), t=2, p=1.
	if !strings.HasPrefix(one, "$argon2id$v=19$m=19456,t=2,p=1$") || strings.Contains(one, word) {
		t.Errorf("kept as %q", one)
	}
	for typed, want := range map[string]bool{word: true, word + " ": false, "Rollers stop before hands go in": false, "": false} {
		if got, err := p.Check(t.Context(), typed, one); err != nil || got != want {
			t.Errorf("%q opens it: %v, %v", typed, got, err)
		}
	}
	if got, err := p.Check(t.Context(), "", ""); err != nil || got {
		t.Errorf("an account that is not there opens: %v, %v", got, err)
	}
}

// TestPasswordTypedElsewhere: an accented letter is one character or two, as the machine has
// it (Unicode Character Database, UnicodeData.txt: U+00FC decomposes into U+0075 U+0308); the
// password is the same, and so is its length.
func TestPasswordTypedElsewhere(t *testing.T) {
	const one, two = "f\u00fcr die Halle am Hafen", "fu\u0308r die Halle am Hafen"
	p := auth.NewPasswords()
	for set, typed := range map[string]string{one: two, two: one} {
		kept, err := p.Hash(t.Context(), set)
		if err != nil {
			t.Fatal(err)
		}
		if got, err := p.Check(t.Context(), typed, kept); err != nil || !got {
			t.Errorf("%+q does not open what %+q set: %v", typed, set, err)
		}
	}
	for letters, fits := range map[int]bool{14: false, 15: true, 200: true} {
		if err := auth.Fit(strings.Repeat("u\u0308", letters)); (err == nil) != fits {
			t.Errorf("%d letters fit: %v", letters, err)
		}
	}
}

// From the tests of the reference implementation of argon2, version 19, src/test.c (the
// tag from memory): the password "password" with the salt "somesalt", two passes over
// 64 MiB by one thread.
func TestPasswordOfTheReference(t *testing.T) {
	tag, err := hex.DecodeString("09316115d5cf24ed5a15a31a3ba326e5cf32edc24702987c02b6566f61913cf7")
	if err != nil {
		t.Fatal(err)
	}
	kept := "$argon2id$v=19$m=65536,t=2,p=1$c29tZXNhbHQ$" + base64.RawStdEncoding.EncodeToString(tag)
	p := auth.NewPasswords()
	for typed, want := range map[string]bool{"password": true, "passwore": false} {
		if got, err := p.Check(t.Context(), typed, kept); err != nil || got != want {
			t.Errorf("%q: %v, %v", typed, got, err)
		}
	}
}

func TestPasswordsThatCannotBeRead(t *testing.T) {
	p := auth.NewPasswords()
	const salt, tag = "c29tZXNhbHQ", "CTFhFdXPJO1aFaMaO6Mm5c8y7cJHApl8ArZWb2GRPPc"
	for _, kept := range []string{
		"secret",
		"$argon2i$v=19$m=65536,t=2,p=1$" + salt + "$" + tag,
		"$argon2id$v=16$m=65536,t=2,p=1$" + salt + "$" + tag,
		"$argon2id$v=19$m=65536,t=0,p=1$" + salt + "$" + tag,
		"$argon2id$v=19$m=65536,t=2,p=0$" + salt + "$" + tag,
		"$argon2id$v=19$m=4000000,t=2,p=1$" + salt + "$" + tag,
		"$argon2id$v=19$m=65536,t=1000,p=1$" + salt + "$" + tag,
		"$argon2id$v=19$m=65536,t=2,p=1$" + salt + "$",
		"$argon2id$v=19$m=65536,t=2,p=1$$" + tag,
		"$argon2id$v=19$m=65536,t=2,p=1$" + salt + "$not base64",
	} {
		if ok, err := p.Check(t.Context(), "password", kept); ok || !errors.Is(err, auth.ErrKeptPassword) {
			t.Errorf("%q: %v, %v", kept, ok, err)
		}
	}
}

func TestFit(t *testing.T) {
	for password, want := range map[string]bool{
		"":                       false,
		"fourteen chars":         false,
		"fifteen charact":        true,
		"ääääääääääääääö":        true, // characters, not bytes
		strings.Repeat("a", 200): true,
		strings.Repeat("a", 201): false,
	} {
		if err := auth.Fit(password); (err == nil) != want {
			t.Errorf("%q: %v", password, err)
		}
	}
}

// Two are hashed at a time: whoever gives up waiting is let go, and all others have theirs.
func TestTwoHashesAtATime(t *testing.T) {
	p := auth.NewPasswords()
	release := p.Occupy()
	ctx, stop := context.WithTimeout(t.Context(), 20*time.Millisecond)
	defer stop()
	if _, err := p.Hash(ctx, "a third one has to wait"); !errors.Is(err, context.DeadlineExceeded) {
		t.Errorf("a third one: %v", err)
	}
	var all sync.WaitGroup
	for range 5 {
		all.Go(func() {
			if _, err := p.Hash(t.Context(), "a third one has to wait"); err != nil {
				t.Error(err)
			}
		})
	}
	release()
	all.Wait()
}

// So many wait for their turn and no more: one more is told at once, and a place is free
// again as soon as somebody hangs up.
func TestQueueOfHashes(t *testing.T) {
	p := auth.NewPasswords()
	release := p.Occupy()
	hanging, hangUp := context.WithCancel(t.Context())
	var left, all sync.WaitGroup
	wait := func(ctx context.Context, in *sync.WaitGroup, want error) {
		in.Go(func() {
			if _, err := p.Hash(ctx, "one of many that wait"); !errors.Is(err, want) {
				t.Errorf("waited: %v, want %v", err, want)
			}
		})
	}
	queued := func(want int) {
		t.Helper()
		for by := time.Now().Add(10 * time.Second); p.Queued() != want; time.Sleep(time.Millisecond) {
			if time.Now().After(by) {
				t.Fatalf("%d in the queue, want %d", p.Queued(), want)
			}
		}
	}
	wait(hanging, &left, context.Canceled)
	for range auth.MostWaiting - 1 {
		wait(t.Context(), &all, nil)
	}
	queued(2 + auth.MostWaiting)
	if _, err := p.Hash(t.Context(), "one too many"); !refused(err, "passwords-busy") {
		t.Errorf("one too many: %v", err)
	}
	if _, err := p.Check(t.Context(), "one too many", ""); !refused(err, "passwords-busy") {
		t.Errorf("one too many to be checked: %v", err)
	}
	hangUp()
	left.Wait()
	queued(1 + auth.MostWaiting)
	wait(t.Context(), &all, nil)
	queued(2 + auth.MostWaiting)
	release()
	all.Wait()
	queued(0)
}
