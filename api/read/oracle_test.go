package read

import (
	"bufio"
	"context"
	"encoding/json"
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"benchmeet/api/store"
	"benchmeet/api/view"
	"benchmeet/domain/board"
	"benchmeet/domain/day"
	"benchmeet/domain/journal"
)

var stream = store.MeetStream("harbour", "spring")

// plainly is what a topic shows, computed from the state alone, as encoding/json has it.
func plainly(v view.MeetView, topic string) ([]byte, error) {
	kind, of, _ := strings.Cut(topic, "/")
	d := v.State.Divisions[day.DivisionID(of)]
	switch kind {
	case "meet":
		return json.Marshal(v.Meet())
	case "board":
		return json.Marshal(v.Board())
	case "day-plan":
		return json.Marshal(view.DayPlan(v))
	case "heats":
		return json.Marshal(v.Heats())
	case "runs":
		return json.Marshal(v.Runs())
	case "entries":
		return json.Marshal(v.Entries(of == "official"))
	case "car":
		car, there := v.CarDay(day.EntryID(of))
		if !there {
			return nil, fmt.Errorf("no car %s", of)
		}
		return json.Marshal(car)
	case "standings":
		return json.Marshal(v.Standings(d))
	case "bracket":
		return json.Marshal(v.Bracket(d))
	}
	order, err := board.AssignmentOf(v.State, day.BenchID(of))
	if err != nil {
		return nil, err
	}
	return json.Marshal(v.BenchOrder(order))
}

func topicsOf(s *day.State) []string {
	out := []string{"meet", "board", "day-plan", "heats", "runs", "entries", "entries/official"}
	for d := range s.Divisions {
		out = append(out, "standings/"+string(d), "bracket/"+string(d))
	}
	for b := range s.Benches {
		out = append(out, "bench/"+string(b))
	}
	for e := range s.Entries {
		out = append(out, "car/"+string(e))
	}
	slices.Sort(out)
	return out
}

// differs finds a topic that the model shows otherwise than it is.
func differs(m *Model, v view.MeetView, topics []string) error {
	for _, topic := range topics {
		want, err := plainly(v, topic)
		if err != nil {
			return err
		}
		got, there := m.Show(stream, v, topic)
		if !there || string(got.Body()) != string(want) {
			return fmt.Errorf("%s at %d: there %v\n got %s\nwant %s", topic, v.Head.Seq, there, got.Body(), want)
		}
	}
	return nil
}

// headAt is a head of a log of so many records.
func headAt(s *day.State) journal.Head {
	return journal.Head{Seq: s.Seq, Hash: journal.Hash{1, byte(s.Seq), byte(s.Seq >> 8)}}
}

// people is a store of people that a test changes.
type people struct {
	store.People
	all map[string]store.Person
}

func (p *people) AllPeople(context.Context, string) ([]store.Person, error) {
	return slices.Collect(maps.Values(p.all)), nil
}

// event is a line of a log.
type event struct {
	Type string          `json:"type"`
	V    int             `json:"v"`
	Data json.RawMessage `json:"data"`
	Time int64           `json:"time"`
}

// TestShownIsWhatIs follows the golden logs, in which every event there is stands: after
// each event what was kept and what is computed from nothing are the same to the byte.
// One model is asked for all topics each time, another for half of them, so that what it
// keeps is of many ages.
func TestShownIsWhatIs(t *testing.T) {
	logs, err := filepath.Glob("../../domain/meet/testdata/golden/*.jsonl")
	if err != nil || len(logs) == 0 {
		t.Fatal("no golden logs", err)
	}
	kinds := map[string]bool{}
	for _, path := range logs {
		t.Run(filepath.Base(path), func(t *testing.T) {
			text, err := os.Open(path)
			if err != nil {
				t.Fatal(err)
			}
			defer text.Close()
			lines := bufio.NewScanner(text)
			lines.Buffer(nil, 1<<24)
			s, all, half := day.New(), New(nil), New(nil)
			for lines.Scan() {
				var e event
				if err := json.Unmarshal(lines.Bytes(), &e); err != nil {
					t.Fatal(err)
				}
				fact, err := day.Decode(e.Type, e.V, e.Data)
				if err != nil {
					t.Fatal(err)
				}
				kinds[e.Type] = true
				s = s.Clone()
				day.Evolve(s, fact, e.Time)
				v := view.MeetView{ID: "spring", State: s, Head: headAt(s)}
				topics := topicsOf(s)
				if err := differs(all, v, topics); err != nil {
					t.Fatalf("after %s: %v", e.Type, err)
				}
				topics = slices.DeleteFunc(topics, func(topic string) bool { return (int(s.Seq)+len(topic))%2 == 0 })
				if err := differs(half, v, topics); err != nil {
					t.Fatalf("after %s, half of the time: %v", e.Type, err)
				}
			}
			if err := lines.Err(); err != nil {
				t.Fatal(err)
			}
		})
	}
	for _, kind := range day.Types() {
		if !kinds[kind] {
			t.Errorf("no log has the event %s", kind)
		}
	}
}
