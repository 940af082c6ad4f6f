package node

import (
	"context"
	"errors"
	"io"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

func TestReadTakesLinesAndLeavesRubbishOut(t *testing.T) {
	text := "1000\n  now 2000 \nstart 3000\n\nhello\n-5\n9007199254740993\n4000"
	to := make(chan Reading, 10)
	var bad []string
	err := Read(context.Background(), strings.NewReader(text), to, func(err error) { bad = append(bad, err.Error()) })
	close(to)
	if !errors.Is(err, io.EOF) {
		t.Errorf("the source ended with %v", err)
	}
	type line struct {
		Kind Kind
		US   int64
	}
	var got []line
	for r := range to {
		if r.Arrived.IsZero() {
			t.Error("a reading has no instant of arrival")
		}
		got = append(got, line{r.Kind, r.US})
	}
	want := []line{{Pass, 1000}, {Now, 2000}, {Start, 3000}, {Pass, 4000}}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("differs (-want +got):\n%s", diff)
	}
	if len(bad) != 3 || !strings.Contains(bad[0], `"hello" is no line`) {
		t.Errorf("left out: %q", bad)
	}
}

func FuzzParseLine(f *testing.F) {
	for _, seed := range []string{"1", "now 5", "start 9", "now", "start now 3", " 7 ", "1e3", "0x5"} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, line string) {
		kind, us, err := ParseLine(line)
		if err == nil && (us < 0 || us > 1<<53-1 || kind < Pass || kind > Start) {
			t.Errorf("%q is read as %d %d", line, kind, us)
		}
	})
}
