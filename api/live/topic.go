package live

import (
	"encoding/json"
	"strings"

	"github.com/gorilla/websocket"

	"benchmeet/api/gen"
	"benchmeet/api/view"
	"benchmeet/domain/club"
	"benchmeet/domain/journal"
	"benchmeet/domain/meet"
)

// mostTopics bounds what one listener may ask for.
const mostTopics = 64

// knownTopic says whether a topic can be asked for; whether its division or
// bench exists is seen when it is encoded.
func knownTopic(topic string, practice bool) bool {
	kind, rest, _ := strings.Cut(topic, "/")
	if practice {
		return topic == "practice" || topic == "speed" || kind == "speed" && rest != ""
	}
	switch kind {
	case "board", "meet":
		return rest == ""
	case "standings", "bracket", "bench":
		return rest != ""
	case "speed":
		return true
	}
	return false
}

// meetTopic is the data of a topic of a meet; false where there is no such thing
// yet.
func meetTopic(v view.MeetView, topic string) (any, bool) {
	kind, id, _ := strings.Cut(topic, "/")
	switch kind {
	case "meet":
		return v.Meet(), true
	case "board":
		return v.Board(), true
	case "standings", "bracket":
		d, there := v.State.Divisions[meet.DivisionID(id)]
		if !there {
			return nil, false
		}
		if kind == "standings" {
			return v.Standings(d), true
		}
		return v.Bracket(d), true
	case "bench":
		order, err := v.State.BenchOrder(meet.BenchID(id))
		if err != nil {
			return nil, false
		}
		return v.BenchOrder(order), true
	}
	return nil, false
}

// practiceRuns is how many runs the practice topic shows.
const practiceRuns = 50

func practiceTopic(s *club.State, topic string) (any, bool) {
	if topic != "practice" {
		return nil, false
	}
	return view.Practice(s, "", practiceRuns), true
}

// frame is what is sent.
type frame struct {
	Topic string          `json:"topic"`
	Seq   *int64          `json:"seq,omitempty"`
	Data  json.RawMessage `json:"data"`
}

// encodeFrame makes a frame that all listeners share; compressing it is shared
// too.
func encodeFrame(topic string, seq *int64, data any) (*websocket.PreparedMessage, error) {
	text, err := json.Marshal(data)
	if err != nil {
		return nil, err
	}
	if text, err = json.Marshal(frame{topic, seq, text}); err != nil {
		return nil, err
	}
	return websocket.NewPreparedMessage(websocket.TextMessage, text)
}

// placed sets in a topic's data the position that it is of.
func placed(data any, head journal.Head) any {
	switch v := data.(type) {
	case gen.Meet:
		v.Seq, v.Head = head.Seq, head.Hash.String()
		return v
	case gen.Standings:
		v.Seq, v.Head = head.Seq, head.Hash.String()
		return v
	case gen.Board:
		v.Seq = head.Seq
		return v
	case gen.Bracket:
		v.Seq = head.Seq
		return v
	case gen.PracticeBoard:
		v.Seq = head.Seq
		return v
	}
	return data // of no position: what a bench has to do
}
