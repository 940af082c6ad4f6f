package node

import (
	"bytes"
	"context"
	"errors"
	"io"
	"testing"
)

// TestShared: several read one line, each all of it; it is opened once, and again when it
// was lost; the last one closes it.
func TestShared(t *testing.T) {
	type wire struct {
		*io.PipeReader
		in *io.PipeWriter
	}
	var wires []*wire
	s := NewShared(func(context.Context) (io.ReadCloser, error) {
		r, w := io.Pipe()
		wires = append(wires, &wire{r, w})
		return wires[len(wires)-1], nil
	})
	open := func() io.ReadCloser {
		t.Helper()
		r, err := s.Open(t.Context())
		if err != nil {
			t.Fatal(err)
		}
		return r
	}
	reads := func(r io.Reader, want string) {
		t.Helper()
		got := make([]byte, len(want))
		if _, err := io.ReadFull(r, got); err != nil || !bytes.Equal(got, []byte(want)) {
			t.Errorf("read %q (%v), want %q", got, err, want)
		}
	}
	say := func(words string) {
		t.Helper()
		if _, err := io.WriteString(wires[len(wires)-1].in, words); err != nil {
			t.Fatal(err)
		}
	}
	a, b := open(), open()
	if len(wires) != 1 {
		t.Fatalf("the line was opened %d times", len(wires))
	}
	say("one\n")
	reads(a, "o")
	reads(a, "ne\n")
	say("two\n")
	reads(a, "two\n")
	reads(b, "one\ntwo\n") // it was busy
	if err := a.Close(); err != nil {
		t.Error(err)
	}
	if _, err := a.Read(make([]byte, 1)); err == nil {
		t.Error("what is closed is read")
	}
	say("three\n")
	pulled := errors.New("pulled")
	_ = wires[0].in.CloseWithError(pulled)
	reads(b, "three\n")
	if _, err := b.Read(make([]byte, 1)); !errors.Is(err, pulled) {
		t.Errorf("the lost line reads as %v", err)
	}
	a, c := open(), open()
	if err := b.Close(); err != nil { // it is on the old line: the new one stays
		t.Error(err)
	}
	say("four\n")
	reads(a, "four\n")
	reads(c, "four\n")
	_, _ = a.Close(), c.Close()
	if _, err := wires[len(wires)-1].in.Write([]byte("x")); err == nil || len(wires) != 2 {
		t.Errorf("the line is open behind its last reader (%d were opened)", len(wires))
	}
}
