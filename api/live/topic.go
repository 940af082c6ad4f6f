package live

import (
	"encoding/json"
	"net/url"
	"regexp"
	"slices"
	"strings"

	"github.com/gorilla/websocket"

	"benchmeet/api/gen"
	"benchmeet/api/view"
	"benchmeet/domain/board"
	"benchmeet/domain/club"
	"benchmeet/domain/day"
	"benchmeet/domain/journal"
	"benchmeet/domain/refusal"
)

// What one listener may ask for.
const (
	mostTopics = 64
	// mostQuery bounds the query before it is parsed, in bytes: 64 topics with ids
	// of 64 letters.
	mostQuery = mostTopics * (64 + len("standings%2F%2C"))
	// mostUnknown is how many topics the public may ask for that are not there. A
	// page that follows a division may be older than the plan; nobody else has to
	// ask for what is not there.
	mostUnknown = 4
)

// id is how divisions and benches are named; see the contract.
var id = regexp.MustCompile(`^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$`)

// topicSet is what can be asked for of a stream as it is now.
type topicSet struct {
	practice bool
	there    map[string]bool
}

func meetTopics(s *day.State) topicSet {
	there := map[string]bool{"board": true, "meet": true, "speed": true}
	for d := range s.Divisions {
		there["standings/"+string(d)], there["bracket/"+string(d)] = true, true
	}
	for b := range s.Benches {
		there["bench/"+string(b)], there["speed/"+string(b)] = true, true
	}
	return topicSet{there: there}
}

func practiceTopics(s *club.State) topicSet {
	there := map[string]bool{"practice": true, "speed": true}
	for b := range s.Benches {
		there["speed/"+string(b)] = true
	}
	return topicSet{practice: true, there: there}
}

// shown are the topics that have data, in order.
func (t topicSet) shown() []string {
	var out []string
	for topic := range t.there {
		if kind, _, _ := strings.Cut(topic, "/"); kind != "speed" {
			out = append(out, topic)
		}
	}
	slices.Sort(out)
	return out
}

// asked reads which topics a query asks for, and refuses what cannot be one. What
// is not there yet costs nothing and is sent once it is there; strangers may ask
// for a few of those beside what is there, and not for those alone.
func (t topicSet) asked(query string, who Who) ([]string, error) {
	if len(query) > mostQuery {
		return nil, refusal.New("many-topics")
	}
	values, err := url.ParseQuery(query)
	if err != nil {
		return nil, refusal.New("bad-topic", "topic", "")
	}
	var topics []string
	unknown, last := 0, ""
	for i, topic := range strings.Split(values.Get("topics"), ",") {
		switch {
		case !wellFormed(topic, t.practice):
			return nil, refusal.New("bad-topic", "topic", shortened(topic))
		case i == mostTopics:
			return nil, refusal.New("many-topics")
		case !t.there[topic]:
			unknown, last = unknown+1, topic
		}
		topics = append(topics, topic)
	}
	if who.Caller == "" && unknown > min(mostUnknown, len(topics)-1) {
		return nil, refusal.New("bad-topic", "topic", last)
	}
	return topics, nil
}

// shortened keeps a refusal from repeating what was far too long.
func shortened(topic string) string {
	const most = 80
	if len(topic) > most {
		return strings.ToValidUTF8(topic[:most], "") + "…"
	}
	return topic
}

// wellFormed says whether a topic can be asked for at all.
func wellFormed(topic string, practice bool) bool {
	kind, of, named := strings.Cut(topic, "/")
	if named && !id.MatchString(of) {
		return false
	}
	if practice {
		return topic == "practice" || kind == "speed"
	}
	switch kind {
	case "board", "meet":
		return !named
	case "standings", "bracket", "bench":
		return named
	}
	return kind == "speed"
}

// meetTopic is the data of a topic of a meet; false where there is no such thing
// yet.
func meetTopic(v view.MeetView, topic string) (any, bool) {
	kind, of, _ := strings.Cut(topic, "/")
	switch kind {
	case "meet":
		return v.Meet(), true
	case "board":
		return v.Board(), true
	case "standings", "bracket":
		d, there := v.State.Divisions[day.DivisionID(of)]
		if !there {
			return nil, false
		}
		if kind == "standings" {
			return v.Standings(d), true
		}
		return v.Bracket(d), true
	case "bench":
		order, err := board.BenchOrderOf(v.State, day.BenchID(of))
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
	Topic string `json:"topic"`
	Seq   *int64 `json:"seq,omitempty"`
	Data  any    `json:"data"`
}

// encodeFrame makes a frame that all listeners share; compressing it is shared
// too.
func encodeFrame(topic string, seq *int64, data any) (*websocket.PreparedMessage, error) {
	text, err := json.Marshal(frame{topic, seq, data})
	if err != nil {
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
