package live

import (
	"encoding/json"
	"strings"

	"benchmeet/api/view"
	"benchmeet/domain/club"
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

func encodeFrame(topic string, seq *int64, data any) ([]byte, error) {
	text, err := json.Marshal(data)
	if err != nil {
		return nil, err
	}
	return json.Marshal(frame{topic, seq, text})
}
