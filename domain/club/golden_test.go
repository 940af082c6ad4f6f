package club_test

import (
	"bytes"
	"crypto/sha256"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"testing"

	"benchmeet/domain/battery"
	"benchmeet/domain/club"
	"benchmeet/domain/day"
	"benchmeet/domain/journal"
	"benchmeet/domain/programme"
	"benchmeet/domain/rating"
	"benchmeet/domain/workshop"
)

var update = flag.Bool("update", false, "write the golden log if it is not there yet")

// everyEvent is one event of each kind of practice, and a run of a meet that is not there.
var everyEvent = []club.Event{
	benchOne, benchTwo, carSeven, armed, recorded,
	club.PracticeRecorded{ID: "junior-1.1.1-L1-1", Bench: "b2", Boot: "bb", Trace: "t2", Meet: "autumn", Figures: ran(9)},
	retired, erased,
}

// checkEvents are those of a reference check.
var checkEvents = []club.Event{
	benchOne, benchTwo, referenceCar, begun, referenceArmed, referenceRun,
	club.ReferenceRunDropped{Run: "practice-b1-1", By: "o"},
}

// ratingEvents are a meet that was rated, one behind it, and a correction that both
// follow.
var ratingEvents = []club.Event{
	club.RatingsTaken{RatingPeriod: club.RatingPeriod{
		Meet: "spring", Division: "a", Class: "open", Number: 1, Games: []programme.RatedGame{won("p1", "p2")},
		Ratings: []club.EntrantRating{{Entrant: "p1", Kept: rating.New().Keep()}, {Entrant: "p2", Kept: rating.New().Keep()}},
	}},
	club.RatingsTaken{RatingPeriod: club.RatingPeriod{
		Meet: "autumn", Division: "a", Class: "open", Number: 1, Games: []programme.RatedGame{won("p2", "p1")},
		Ratings: []club.EntrantRating{{Entrant: "p1", Kept: rating.New().Keep()}, {Entrant: "p2", Kept: rating.New().Keep()}},
	}},
	club.RatingsTaken{
		RatingPeriod: club.RatingPeriod{
			Meet: "spring", Division: "a", Class: "open", Number: 2, Games: []programme.RatedGame{}, Ratings: []club.EntrantRating{},
		},
	},
	club.RatingsTaken{Follows: true, RatingPeriod: club.RatingPeriod{
		Meet: "autumn", Division: "a", Class: "open", Number: 1,
		Ratings: []club.EntrantRating{{Entrant: "p1", Kept: rating.New().Keep()}, {Entrant: "p2", Kept: rating.New().Keep()}},
	}},
}

// sentEvents are runs under a name that is taken, one of which the bench was asked for.
var sentEvents = []club.Event{
	benchOne, benchTwo, carSeven,
	club.PracticeRecorded{ID: "practice-b1-1", Bench: "b2", Boot: "zz", Trace: "t0", Figures: ran(4)},
	armed,
	club.PracticeRecorded{
		ID: "practice-b1-1.aa", Sent: "practice-b1-1", Bench: "b1", Car: "seven", Boot: "aa", Trace: "t1", Figures: ran(5), Armed: true,
	},
	club.PracticeRecorded{ID: "practice-b1-1.aa.2", Sent: "practice-b1-1", Bench: "b1", Boot: "aa", Trace: "t2", Figures: ran(6)},
}

// textEvents are a text that was erased alone, and one with its person.
var textEvents = []club.Event{club.TextErased{Text: "t-0123456789ab", By: "o"}, erased}

// consentEvents are a child whose consents were turned on and partly off again, and another.
var consentEvents = []club.Event{
	club.ConsentsChanged{Person: "p1", Consents: club.Consents{OnScreen: true, InResults: true, Photo: true}, By: "organiser-1"},
	club.ConsentsChanged{Person: "p2", Consents: club.Consents{InResults: true}, By: "organiser-1"},
	club.ConsentsChanged{Person: "p1", Consents: club.Consents{OnScreen: true}, By: "official-2"},
}

// afternoonEvents are a practice afternoon: a car that is changed, a guess, a run of the
// wrong car, one that does not count, and an announced comparison.
var afternoonEvents = []club.Event{
	benchOne, benchTwo, carSeven,
	club.PracticeOpened{ID: "s1", Benches: []day.BenchID{"b1"}, Settings: workshop.Settings{RaceUS: 20_000_000, Turn: 2, HandsFree: true}, By: "o"},
	club.PracticeSet{
		ID: "s1", Benches: []day.BenchID{"b1", "b2"},
		Settings: workshop.Settings{RaceUS: 15_000_000, Turn: 1, HandsFree: true, GoalUM: 1_000_000_000}, By: "o",
	},
	club.CarChanged{Car: "seven", State: 1, Fitting: 1, Setup: allNoted, By: "v"},
	club.QueueMoved{Session: "s1", Car: "seven", To: 0, Why: club.Joined, By: "v"},
	club.PracticeArmed{
		Bench: "b1", Run: "practice-b1-1", Car: "seven", RaceUS: 15_000_000, By: "v", Asked: club.Asked{Session: "s1", Turn: 1},
	},
	club.RunGuessed{Bench: "b1", Run: "practice-b1-1", DistanceUM: 30_000_000},
	club.PracticeRecorded{
		ID: "practice-b1-1", Bench: "b1", Car: "seven", Boot: "aa", Trace: "t1", Figures: ran(31_000_000), Armed: true,
		Session: "s1", RaceUS: 15_000_000, State: 1, Fitting: 1, GuessUM: 30_000_000,
	},
	club.QueueMoved{Session: "s1", Car: "seven", To: 0, Turns: 1, Why: club.HadTurn, By: "v"},
	club.PracticeArmed{
		Bench: "b1", Run: "practice-b1-2", Car: "seven", RaceUS: 15_000_000, By: "v", Asked: club.Asked{Session: "s1", Turn: 1, Again: true},
	},
	club.PracticeCancelled{Bench: "b1", Run: "practice-b1-2", By: "v"},
	club.PracticeRecorded{ID: "free", Bench: "b1", Boot: "aa", Trace: "t2", Figures: ran(0), Session: "s1", Short: true},
	club.CarRegistered{Car: club.Car{ID: "eight", Number: 8}},
	club.PracticeMoved{Run: "practice-b1-1", Car: "eight", By: "v"},
	club.PracticeMoved{Run: "free", Car: "seven", State: 1, Fitting: 1, By: "v"},
	club.PracticeJudged{Run: "practice-b1-1", Drop: workshop.OffRollers, By: "v"},
	club.PracticeJudged{Run: "practice-b1-1", By: "v"},
	club.CarChanged{Car: "seven", State: 2, Fitting: 2, Setup: workshop.Setup{Driving: 10, Driven: 40}, By: "v"},
	club.ComparisonPlanned{Car: "seven", From: 1, To: 2, Fittings: 8, RunsAFitting: 2, By: "v"},
	club.PracticeClosed{ID: "s1", By: "o"},
}

// lateEvents are steps that came after runs which they are about, one of which was moved.
var lateEvents = []club.Event{
	benchOne, carSeven,
	club.CarChanged{Car: "seven", State: 1, Fitting: 1, Setup: allNoted, By: "v"},
	club.PracticeRecorded{ID: "free", Bench: "b1", Car: "seven", Boot: "aa", Trace: "t1", Figures: ran(31_000_000), State: 1, Fitting: 1},
	club.PracticeRecorded{ID: "free-2", Bench: "b1", Boot: "aa", Trace: "t2", Figures: ran(32_000_000)},
	club.PracticeMoved{Run: "free-2", Car: "seven", State: 1, Fitting: 1, By: "v"},
	club.CarChanged{
		Car: "seven", State: 2, Fitting: 2, Setup: workshop.Setup{Driving: 10, Driven: 40}, NotedUS: clubStart + 3, By: "v",
	},
	club.PracticeRestated{Car: "seven", State: 2, Fitting: 2, Runs: []day.RunID{"free", "free-2"}, By: "v"},
	club.PracticeJudged{Run: "free", Drop: workshop.Helped, By: "v"},
}

// allNoted is a setup with everything noted.
var allNoted = workshop.Setup{
	WheelUM: 25_000, Driving: 8, Driven: 40, Motor: 3, Cells: 2, Chemistry: battery.NiMH, Pack: 12, MassMG: 120_000,
	Tyres: "rubber", Grease: "oil",
}

// TestGoldenLog opens logs that an earlier program wrote: each line is the
// canonical bytes of an envelope. Old logs open for ever, so never edit or replace
// it: where an event changes, raise its version, lift the old form in before.go, and
// add a log of the new form. Only the hash of the folded state may be written
// anew, when the state itself has got another form.
func TestGoldenLog(t *testing.T) {
	newest := map[string]int{} // the version of each event
	for name, events := range map[string][]club.Event{
		"club": everyEvent, "reference": checkEvents, "ratings": ratingEvents, "texts": textEvents, "sent": sentEvents,
		"consents": consentEvents, "afternoon": afternoonEvents, "late": lateEvents,
	} {
		t.Run(name, func(t *testing.T) { golden(t, name, events, newest) })
	}
	for _, kind := range club.Types() {
		if newest[kind] != club.VersionOf(kind) {
			t.Errorf("no golden log has the event %s in version %d", kind, club.VersionOf(kind))
		}
	}
}

// golden opens a log and notes the versions of its events.
func golden(t *testing.T, name string, events []club.Event, newest map[string]int) {
	path := filepath.Join("testdata", "golden", name)
	if _, err := os.Stat(path + ".jsonl"); *update && os.IsNotExist(err) {
		var text bytes.Buffer
		var log []journal.Record
		for i, e := range events {
			log = append(log, seal(t, log, e, clubStart+int64(i)))
			text.Write(append(log[i].Bytes, '\n'))
		}
		write(t, path+".jsonl", text.Bytes())
		write(t, path+".state", []byte(sums(t, log)))
	}
	text, err := os.ReadFile(path + ".jsonl")
	if err != nil {
		t.Fatal(err)
	}
	var log []journal.Record
	var head journal.Head
	for line := range bytes.Lines(text) {
		line = bytes.TrimSuffix(line, []byte("\n"))
		hash := journal.Hash(sha256.Sum256(slices.Concat(head.Hash[:], line)))
		r := journal.Record{Seq: head.Seq + 1, Bytes: line, Hash: hash}
		log, head = append(log, r), r.Head()
		e, err := r.Open()
		if err != nil {
			t.Fatal(err)
		}
		newest[e.Type] = max(newest[e.Type], e.V)
	}
	want, err := os.ReadFile(path + ".state")
	if err != nil {
		t.Fatal(err)
	}
	if got := sums(t, log); got != string(want) {
		t.Errorf("got\n%swant\n%s", got, want)
	}
}

// sums are the hashes of a log's head and of the state that it folds to.
func sums(t *testing.T, log []journal.Record) string {
	t.Helper()
	return fmt.Sprintf("head %s\nstate %x\n", log[len(log)-1].Hash, sha256.Sum256(stateJSON(t, refold(t, log))))
}

func write(t *testing.T, path string, text []byte) {
	t.Helper()
	if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(path, text, 0o644); err != nil {
		t.Fatal(err)
	}
}

// TestDecode refuses what a later program wrote: a state without it is wrong.
func TestDecode(t *testing.T) {
	for _, tt := range []struct {
		name, kind string
		version    int
		data       string
	}{
		{"an unknown event", "BenchPainted", 1, "{}"},
		{"a later version", "BenchRetired", 2, "{}"},
		{"a later version of an event that has changed", "PracticeRecorded", 3, "{}"},
		{"no version", "BenchRetired", 0, "{}"},
		{"an unknown field", "BenchRetired", 1, `{"colour":"red"}`},
		{"a wrong type", "BenchRetired", 1, `{"bench":1}`},
	} {
		t.Run(tt.name, func(t *testing.T) {
			if e, err := club.Decode(tt.kind, tt.version, []byte(tt.data)); err == nil {
				t.Errorf("got %+v", e)
			}
		})
	}
}
