package meet_test

import (
	"bytes"
	"encoding/json"
	"fmt"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/cockroachdb/datadriven"

	"benchmeet/domain/day"
	"benchmeet/domain/journal"
	"benchmeet/domain/meet"
	"benchmeet/domain/refusal"
)

// TestDay tells days of racing as text files: a command, then what came of it.
// The verbs are in day_*_test.go, one small handler each.
//
// To accept changed outcomes: go test ./domain/meet -run TestDay -rewrite, then
// read the difference as an official would.
func TestDay(t *testing.T) {
	datadriven.Walk(t, "testdata/day", func(t *testing.T, path string) {
		play(t, path).refolds()
	})
}

// play plays a told day and compares what came of it with the file.
func play(t *testing.T, path string) *toldDay {
	d := newDay(t)
	datadriven.RunTest(t, path, func(t *testing.T, td *datadriven.TestData) string {
		handler, known := verbs[td.Cmd]
		if !known {
			t.Fatalf("%s: no verb %q", td.Pos, td.Cmd)
		}
		d.t, d.td = t, td
		d.out.Reset()
		handler(d)
		return d.out.String()
	})
	d.t = t
	return d
}

// verbs is filled by the files of the verbs.
var verbs = map[string]func(*toldDay){}

// dayStart is when every told day begins, 09:00:00 on the clock of the files.
const dayStart = 1_800_000_000_000_000

// toldDay is a told day under way.
type toldDay struct {
	t     *testing.T
	td    *datadriven.TestData
	out   strings.Builder
	s     *day.State
	now   int64
	actor string
	seed  uint64
	log   []journal.Record
	// outcomes says that events are told with what rules made of them.
	outcomes bool
}

func newDay(t *testing.T) *toldDay {
	return &toldDay{t: t, s: day.New(), now: dayStart, actor: "organiser", seed: 7}
}

func (d *toldDay) say(format string, args ...any) { fmt.Fprintf(&d.out, format+"\n", args...) }

// do gives a command one second later, tells its events or its refusal, and says
// whether it was carried out.
func (d *toldDay) do(c meet.Command) bool {
	d.t.Helper()
	events, err := d.quietly(c)
	if err != nil {
		no, is := refusal.As(err)
		if !is {
			d.t.Fatalf("%s: %T is refused with an error without a code: %v", d.td.Pos, c, err)
		}
		if id := idIn(d.s, no.Error()); id != "" {
			d.t.Errorf("%s: the sentence says the id %q: %s", d.td.Pos, id, no)
		}
		d.say("refused %s: %s", no.Code, no)
		return false
	}
	if len(events) == 0 {
		d.say("nothing new")
	}
	for _, e := range events {
		d.say("%s", d.tell(e))
	}
	return true
}

var words = regexp.MustCompile(`[a-zA-Z0-9][a-zA-Z0-9._-]*[a-zA-Z0-9]`)

// idIn finds an id of the day's things in a sentence; empty for none.
func idIn(s *day.State, sentence string) string {
	for _, word := range words.FindAllString(sentence, -1) {
		_, heat := s.Heats[day.HeatID(word)]
		_, bench := s.Benches[day.BenchID(word)]
		_, entry := s.Entries[day.EntryID(word)]
		_, run := s.Runs[day.RunID(word)]
		_, protest := s.Protests[day.ProtestID(word)]
		d, division := s.Divisions[day.DivisionID(word)]
		if heat || bench || entry || run || protest || division && d.Name != word {
			return word
		}
	}
	return ""
}

// quietly carries a command out, seals its events into the log and folds them.
// It fails the test where Decide changed the state.
func (d *toldDay) quietly(c meet.Command) ([]day.Event, error) {
	d.t.Helper()
	d.now += 1_000_000
	before := stateJSON(d.t, d.s)
	now := max(d.now, d.s.TimeUS) // as the ledger has it
	if _, by := c.(interface{ ByServerClock() }); by {
		now = d.now
	}
	events, err := meet.Decide(d.s, c, meet.Meta{Actor: d.actor, NowUS: now, Seed: d.seed})
	if after := stateJSON(d.t, d.s); !bytes.Equal(before, after) {
		d.t.Fatalf("%s: deciding %T changed the state", d.td.Pos, c)
	}
	for _, e := range events {
		d.log = append(d.log, seal(d.t, d.log, e, now))
		day.Evolve(d.s, e, now)
	}
	return events, err
}

// must carries out a command that the file does not tell of.
func (d *toldDay) must(c meet.Command) []day.Event {
	d.t.Helper()
	events, err := d.quietly(c)
	if err != nil {
		d.t.Fatalf("%s: %T: %v", d.td.Pos, c, err)
	}
	return events
}

// refolds fails the test unless the stored log folds to the same state.
func (d *toldDay) refolds() {
	d.t.Helper()
	if want, got := stateJSON(d.t, d.s), stateJSON(d.t, refold(d.t, d.log)); !bytes.Equal(want, got) {
		d.t.Errorf("the log folds to another state\n got %s\nwant %s", got, want)
	}
}

func stateJSON(t testing.TB, s *day.State) []byte {
	t.Helper()
	text, err := json.Marshal(s)
	if err != nil {
		t.Fatal(err)
	}
	return text
}

// seal makes the record of an event behind a log.
func seal(t testing.TB, log []journal.Record, e day.Event, atUS int64) journal.Record {
	t.Helper()
	data, err := json.Marshal(e)
	if err != nil {
		t.Fatal(err)
	}
	var head journal.Head
	if len(log) > 0 {
		head = log[len(log)-1].Head()
	}
	r, err := journal.Seal(head, journal.Envelope{
		Stream: "harbour/meet/spring", Seq: head.Seq + 1, Type: e.Type(), V: day.VersionOf(e.Type()), Time: atUS,
		Actor: "organiser", Command: "c" + strconv.FormatInt(head.Seq+1, 10), Data: data,
	})
	if err != nil {
		t.Fatalf("%s cannot be sealed: %v", e.Type(), err)
	}
	return r
}

// refold reads a log from its stored bytes, chain and all.
func refold(t testing.TB, log []journal.Record) *day.State {
	t.Helper()
	s := day.New()
	var head journal.Head
	for _, r := range log {
		var err error
		if head, err = head.Follow(r); err != nil {
			t.Fatal(err)
		}
		envelope, err := r.Open()
		if err != nil {
			t.Fatal(err)
		}
		e, err := day.Decode(envelope.Type, envelope.V, envelope.Data)
		if err != nil {
			t.Fatal(err)
		}
		day.Evolve(s, e, envelope.Time)
	}
	return s
}

// The readers of arguments below fail the test where the file is wrong.

func (d *toldDay) text(key, otherwise string) string {
	if arg, there := d.td.Arg(key); there {
		return arg.Vals[0]
	}
	return otherwise
}

func (d *toldDay) whole(key string, otherwise int) int {
	text := d.text(key, "")
	if text == "" {
		return otherwise
	}
	return d.number(text)
}

func (d *toldDay) number(text string) int {
	n, err := strconv.Atoi(text)
	if err != nil {
		d.t.Fatalf("%s: %q is no number", d.td.Pos, text)
	}
	return n
}

// um reads metres.
func (d *toldDay) um(text string) int64 {
	m, err := strconv.ParseFloat(text, 64)
	if err != nil {
		d.t.Fatalf("%s: %q is no distance in m", d.td.Pos, text)
	}
	return int64(m*1e6 + 0.5)
}

// first is the argument without a value that stands first.
func (d *toldDay) first() string {
	if len(d.td.CmdArgs) == 0 {
		d.t.Fatalf("%s: %s needs an argument", d.td.Pos, d.td.Cmd)
	}
	return d.td.CmdArgs[0].Key
}

func (d *toldDay) heat() day.HeatID         { return day.HeatID(d.first()) }
func (d *toldDay) division() day.DivisionID { return day.DivisionID(d.first()) }

// entry reads the entry of a start number.
func (d *toldDay) entry(key string) day.EntryID {
	n := d.whole(key, 0)
	if id, there := d.s.Numbers[n]; there {
		return id
	}
	return day.EntryID("e" + strconv.Itoa(n))
}

func (d *toldDay) reason(otherwise day.ReasonCode) day.Reason {
	return day.Reason{Code: day.ReasonCode(d.text("why", string(otherwise)))}
}
