package club_test

import (
	"bytes"
	"crypto/sha256"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"pgregory.net/rapid"

	"benchmeet/domain/club"
	"benchmeet/domain/day"
	"benchmeet/domain/meet"
)

// TestPackAndUnpack: a state that was packed, at whatever moment and in parts of
// whatever size, goes on as the one that was not: the same to the byte, with the
// same lists, and the same after further events.
func TestPackAndUnpack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		tb := noTB{t: t}
		s, now := club.New(), int64(clubStart)
		size := rapid.IntRange(1, 4).Draw(t, "size")
		var stored [][]byte
		var other *club.State // goes on from what was packed
		for range rapid.IntRange(1, 60).Draw(t, "commands") {
			now += 1_000_000
			events, err := club.Decide(s, command(t), meet.Meta{Actor: "organiser", NowUS: now})
			if err != nil {
				continue
			}
			s = s.Clone()
			for _, e := range events {
				club.Evolve(s, e, now)
				if other != nil {
					club.Evolve(other, e, now)
				}
			}
			if other != nil {
				alike(t, tb, s, other)
			}
			if !rapid.Bool().Draw(t, "pack") {
				continue
			}
			head, parts := s.Pack(len(stored), size)
			stored = append(stored, parts...)
			if len(stored) != s.Runs.Len()/size {
				t.Fatalf("%d runs are in %d parts of %d", s.Runs.Len(), len(stored), size)
			}
			other, err = club.Unpack(head, func(n int) ([]byte, error) { return stored[n], nil })
			if err != nil {
				t.Fatal(err)
			}
			alike(t, tb, s, other)
			if says := drivenFault(other); says != "" {
				t.Fatal("after unpacking: " + says)
			}
			if again, none := other.Pack(len(stored), size); !bytes.Equal(again, head) || len(none) > 0 {
				t.Fatal("what was unpacked is packed otherwise")
			}
		}
	})
}

func alike(t *rapid.T, tb testing.TB, want, got *club.State) {
	if a, b := stateJSON(tb, want), stateJSON(tb, got); !bytes.Equal(a, b) {
		t.Fatalf("got  %s\nwant %s", b, a)
	}
	lists := func(s *club.State) (out []any) {
		for n := range 6 {
			out = append(out, s.History(day.CarID(fmt.Sprintf("car-%d", n)), 100), s.Lives.At(day.CarID(fmt.Sprintf("car-%d", n))))
		}
		return append(out, s.Newest(1000), s.ReferenceRuns("spring"), slices.Collect(s.Practised()), s.SortedBenches())
	}
	if diff := cmp.Diff(lists(want), lists(got), cmpopts.IgnoreUnexported(club.Practice{})); diff != "" {
		t.Fatalf("lists (-want +got)\n%s", diff)
	}
}

// TestUnpackRefuses what was cut, changed in length, or lacks a part.
func TestUnpackRefuses(t *testing.T) {
	s := given(everyEvent...)
	head, parts := s.Pack(0, 1)
	lacking := errors.New("it is not there")
	for name, c := range map[string]struct {
		head []byte
		part func(int) ([]byte, error)
	}{
		"no head":             {nil, nil},
		"half a head":         {head[:len(head)/2], nil},
		"a head with a tail":  {append(slices.Clone(head), 0), func(n int) ([]byte, error) { return parts[n], nil }},
		"a missing part":      {head, func(int) ([]byte, error) { return nil, lacking }},
		"half a part":         {head, func(n int) ([]byte, error) { return parts[n][:len(parts[n])/2], nil }},
		"a part with a tail":  {head, func(n int) ([]byte, error) { return append(slices.Clone(parts[n]), 0), nil }},
		"a part that is text": {head, func(int) ([]byte, error) { return []byte("a part"), nil }},
	} {
		if got, err := club.Unpack(c.head, c.part); err == nil {
			t.Errorf("%s: got %+v", name, got)
		}
	}
}

// TestFoldVersion: whoever changes what the golden logs fold to, or how that is
// packed, raises club.FoldVersion; -update then writes the file of the new version.
func TestFoldVersion(t *testing.T) {
	var got bytes.Buffer
	for _, c := range []struct {
		name   string
		events []club.Event
	}{{"club", everyEvent}, {"reference", checkEvents}, {"ratings", ratingEvents}, {"texts", textEvents}, {"consents", consentEvents}, {"afternoon", afternoonEvents}, {"late", lateEvents}} {
		head, parts := given(c.events...).Pack(0, 1)
		fmt.Fprintf(&got, "%s %x\n", c.name, sha256.Sum256(slices.Concat(append(parts, head)...)))
	}
	path := filepath.Join("testdata", "fold", fmt.Sprintf("version-%d", club.FoldVersion))
	if _, err := os.Stat(path); *update && os.IsNotExist(err) {
		write(t, path, got.Bytes())
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(got.Bytes(), want) {
		t.Errorf("states are folded or packed otherwise now: raise club.FoldVersion\n got\n%swant\n%s", got.Bytes(), want)
	}
}
