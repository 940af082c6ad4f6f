package node

import (
	"fmt"
	"log/slog"
	"slices"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
)

// listener writes down what a box has to say.
type listener struct {
	passes   []int64
	starts   []int64
	restarts int
	missing  int
}

func (l *listener) read(r Reading) {
	switch r.Kind {
	case Pass:
		l.passes = append(l.passes, r.US)
	case Start:
		l.starts = append(l.starts, r.US)
	}
}
func (l *listener) restarted()    { l.restarts++ }
func (l *listener) lost(n int)    { l.missing += n }
func (l *listener) unread()       { l.missing++ }
func (l *listener) compared(Rate) {}

var morning = time.Date(2031, 5, 3, 9, 0, 0, 0, time.UTC)

// said is a line with its arrival in ms.
type said struct {
	text string
	ms   int
}

func hear(input int, lines ...said) *listener {
	l := &listener{}
	b := newBox(input, l, slog.New(slog.DiscardHandler))
	for _, s := range lines {
		b.line(s.text, morning.Add(time.Duration(s.ms)*time.Millisecond))
	}
	return l
}

func TestBoxHears(t *testing.T) {
	hello := func(boot int) string { return sum(fmt.Sprintf("box v1 boot=%d bits=32 hz=2000000 sum=1", boot)) }
	for _, c := range []struct {
		name  string
		input int
		lines []said
		want  listener
	}{
		{
			"a box that starts again soon after a start, and its hello is spoiled", 1,
			[]said{
				{hello(4), 0},
				{sum("0@2000000+12000"), 1000},
				{sum("2@2024000+12000"), 1012},
				{"4@203box v1 boot=5 bits=32 hz=2000000 sum=1*1C2A", 1500},
				{sum("0@20000+12000"), 1510},
				{sum("2@44000+12000"), 1522},
				{hello(5), 3500},
				{sum("4@4000000"), 3501},
			},
			listener{passes: []int64{1000000, 1006000, 1012000, 1018000, 10000, 16000, 22000, 28000, 2000000}, restarts: 1},
		},
		{
			"a wrap of 32 bits", 1,
			[]said{{"4294960000", 0}, {"4294966000", 6}, {"4704", 12}, {"10704", 18}},
			listener{passes: []int64{4294960000, 4294966000, 4294972000, 4294978000}},
		},
		{
			"a clock that goes on beyond 32 bits", 1,
			[]said{{"4294960000", 0}, {"4294966000", 6}, {"4294972000", 12}},
			listener{passes: []int64{4294960000, 4294966000, 4294972000}},
		},
		{
			"two wraps while nothing turned", 1,
			[]said{{"1000000", 0}, {"1006000", 6}, {"1011065408", 9600000}, {"1011071408", 9600006}},
			listener{passes: []int64{1000000, 1006000, 9601000000, 9601006000}},
		},
		{
			"a lost first digit", 1,
			[]said{{"91000000", 0}, {"91006000", 6}, {"1012000", 12}, {"91018000", 18}},
			listener{passes: []int64{91000000, 91006000, 91018000}, missing: 1},
		},
		{
			"two lines in one", 1,
			[]said{{"91000000", 0}, {"91006000", 6}, {"9101200091018000", 18}, {"91024000", 24}},
			listener{passes: []int64{91000000, 91006000, 91024000}, missing: 1},
		},
		{
			"a restart of a plain box", 1,
			[]said{{"91000000", 0}, {"91006000", 6}, {"1000", 800}, {"7000", 806}, {"13000", 812}, {"19000", 818}},
			listener{passes: []int64{91000000, 91006000, 1000, 7000, 13000, 19000}, restarts: 1},
		},
		{
			"a start signal and a box that sends its clock out of order", 1,
			[]said{{"91000000", 0}, {"start 91005000", 5}, {"now 91006500", 6}, {"91006000", 6}, {"91012000", 12}},
			listener{passes: []int64{91000000, 91006000, 91012000}, starts: []int64{91005000}},
		},
		{
			"a restart that the hello tells", 1,
			[]said{{hello(1), 0}, {sum("0@9000000"), 4500}, {sum("1@9012000"), 4506}, {hello(2), 6000}, {sum("0@2000"), 6001}},
			listener{passes: []int64{4500000, 4506000, 1000}, restarts: 1},
		},
		{
			"a restart whose hello was lost", 1,
			[]said{{hello(1), 0}, {sum("0@9000000"), 4500}, {sum("2@2000"), 6001}, {sum("3@14000"), 6007}, {hello(2), 6010}, {sum("4@26000"), 6013}},
			listener{passes: []int64{4500000, 1000, 7000, 13000}, restarts: 1, missing: 2},
		},
		{
			"counts over 65536 and several passes a line", 1,
			[]said{{hello(1), 0}, {sum("65534@9000000+12000"), 4506}, {sum("1@9036000+12000"), 4524}, {sum("now 4@9100000"), 4550}},
			listener{passes: []int64{4500000, 4506000, 4518000, 4524000}, missing: 2},
		},
		{
			"another input", 2,
			[]said{{hello(1), 0}, {sum("0@9000000"), 4500}, {sum("2:5@9002000"), 4501}, {sum("1@9012000"), 4506}, {sum("2:6@9014000"), 4507}},
			listener{passes: []int64{4501000, 4507000}},
		},
		{
			"checked lines before the hello", 1,
			[]said{{sum("0@9000000"), 0}, {hello(1), 1}, {sum("2@9012000"), 6}},
			listener{passes: []int64{4506000}, missing: 1},
		},
		{
			"a cut line in front of checked ones", 1,
			[]said{{"000", 0}, {hello(1), 1}, {"9006", 2}, {sum("0@9000000"), 4}, {"1@90120", 10}, {sum("2@9024000"), 16}},
			listener{passes: []int64{4500000, 4512000}, missing: 1 + 1}, // before the first count nobody knows
		},
		{
			"a spoiled number after a rest", 1,
			[]said{{"91000000", 0}, {"91006000", 6}, {"121000000", 60000}, {"151006000", 60006}, {"151012000", 60012}},
			listener{passes: []int64{91000000, 91006000, 151006000, 151012000}, missing: 1},
		},
		{
			"slow passes that were held up", 1,
			[]said{{"91000000", 0}, {"91006000", 6}, {"95000000", 14000}, {"99000000", 14000}, {"103000000", 14000}, {"105000000", 14000}},
			listener{passes: []int64{91000000, 91006000, 95000000, 99000000, 103000000, 105000000}},
		},
		{
			"a spoiled number among lines that were held up", 1,
			[]said{
				{"91000000", 0},
				{"91006000", 6},
				{"95000000", 14000},
				{"99900000", 14000},
				{"99000000", 14000},
				{"103000000", 14000},
				{"105000000", 14000},
			},
			listener{passes: []int64{91000000, 91006000, 95000000, 99000000, 103000000, 105000000}, missing: 1},
		},
		{
			"a spoiled number that runs ahead while all come late", 1,
			[]said{{"91000000", 0}, {"91200000", 400}, {"91440000", 406}, {"91212000", 412}, {"91218000", 418}, {"91224000", 424}},
			listener{passes: []int64{91000000, 91200000, 91440000, 91212000, 91218000, 91224000}},
		},
		{
			"a hello without a checksum that was spoiled", 1,
			[]said{
				{"box v1 bits=32 hz=1000000", 0},
				{"box v1 bits=32 hz=1000000", 1},
				{"91000000", 2},
				{"91006000", 8},
				{"box v1 bits=32 hz=9000000", 9},
				{"91012000", 14},
			},
			listener{passes: []int64{91000000, 91006000, 91012000}},
		},
	} {
		got := hear(c.input, c.lines...)
		if diff := cmp.Diff(c.want, *got, cmp.AllowUnexported(listener{})); diff != "" {
			t.Errorf("%s (-want +got)\n%s", c.name, diff)
		}
	}
}

// TestBoxBehindASlowPipe: a reader that writes in blocks of some hundred lines, a
// computer that slept, a file that is played at once: the numbers are right, so they
// all count.
func TestBoxBehindASlowPipe(t *testing.T) {
	for name, arrival := range map[string]func(i int) int{
		"in blocks":        func(i int) int { return 6 * (i/500 + 1) * 500 },
		"after a nap":      func(i int) int { return 6*i - 600_000*(i/1000) },
		"held up for 10 s": func(i int) int { return max(6*i, min(6*i+10_000, 16_000)) },
		"at once":          func(i int) int { return i / 100 },
	} {
		l := &listener{}
		b := newBox(1, l, slog.New(slog.DiscardHandler))
		var want []int64
		for i := range 3000 {
			us := int64(5_000_000 + 6000*i)
			want = append(want, us)
			b.line(fmt.Sprint(us), morning.Add(time.Hour+time.Duration(arrival(i))*time.Millisecond))
		}
		// The last lines may still wait for one that agrees with them.
		if n := len(l.passes); n < 2950 || !slices.Equal(l.passes, want[:n]) || l.restarts > 0 || l.missing > 0 {
			t.Errorf("%s: %d passes, %d restarts, %d missing", name, n, l.restarts, l.missing)
		}
	}
}

// TestAPlainBoxAfterOneWithChecksums: somebody puts another box at the bench.
func TestAPlainBoxAfterOneWithChecksums(t *testing.T) {
	lines := []said{{sum("box v1 boot=1 sum=1"), 0}, {sum("0@9000000"), 1}}
	for i := range 100 {
		lines = append(lines, said{fmt.Sprint(500_000_000 + 6000*i), 5000 + 6*i})
	}
	got := hear(1, lines...)
	if n := len(got.passes); n != 1+100-plainAgain+1 || got.restarts == 0 {
		t.Errorf("%d passes, %d restarts", n, got.restarts)
	}
}

// FuzzBox feeds a box any lines at any pace: it never falls over, no stamp is out of
// range, and what it cannot have read it does not tell.
func FuzzBox(f *testing.F) {
	f.Add("1000\n2000\nnow 3000\nstart 4000\n", uint16(6))
	f.Add(sum("box v1 boot=1 bits=63 hz=1000000000 sum=1")+"\n"+sum("1@9223372036854775807+1099511627776")+"\n"+sum("2@0")+"\n", uint16(60000))
	f.Add("18446744073709551615\n0\n18446744073709551614\n4294967296\n1\n", uint16(0))
	f.Add("box v1 bits=24\nbox v1 bits=24\n16777215\n0\n16777215\n1+5\n", uint16(1000))
	f.Fuzz(func(t *testing.T, text string, ms uint16) {
		l := &listener{}
		b := newBox(1, l, slog.New(slog.DiscardHandler))
		at := morning
		stamps := 0
		var lines splitter
		lines.feed([]byte(text), func(line string) {
			at = at.Add(time.Duration(ms) * time.Millisecond)
			if parsed, err := ParseLine(line); err == nil && parsed.Kind == Pass {
				stamps += 1 + len(parsed.Steps)
			}
			b.line(line, at)
		})
		b.closed()
		if len(l.passes) > stamps {
			t.Errorf("%d passes of %d stamps", len(l.passes), stamps)
		}
		for _, us := range append(l.passes, l.starts...) {
			if us < 0 || us > mostUS {
				t.Errorf("a stamp at %d", us)
			}
		}
		if l.missing < 0 {
			t.Errorf("%d are missing", l.missing)
		}
	})
}
