package live

import (
	"encoding/json"
	"net/url"
	"regexp"
	"strings"

	"benchmeet/api/read"
	"benchmeet/api/view"
	"benchmeet/domain/club"
	"benchmeet/domain/day"
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

// id is how divisions, benches and entries are named; see the contract.
var id = regexp.MustCompile(`^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$`)

// Topics is what can be asked for of a stream as it is now.
type Topics struct {
	Practice bool // of a club's practice, and not of a meet
	// Has says whether there is what a topic is about: its kind, and of which thing.
	Has func(kind, of string) bool
}

func meetTopics(s *day.State) Topics {
	return Topics{Has: func(kind, of string) (there bool) {
		switch kind {
		case "board", "meet", "day-plan":
			return true
		case "standings", "bracket":
			_, there = s.Divisions[day.DivisionID(of)]
		case "car":
			_, there = s.Entries[day.EntryID(of)]
		case "bench", "speed":
			_, there = s.Benches[day.BenchID(strings.TrimSuffix(of, read.ForAll))]
			there = there || kind == "speed" && of == ""
		}
		return there
	}}
}

func practiceTopics(s *club.State) Topics {
	return Topics{Practice: true, Has: func(kind, of string) bool {
		_, bench := s.Benches[day.BenchID(of)]
		return kind == "practice" || kind == "speed" && (of == "" || bench)
	}}
}

// There says whether there is such a topic.
func (t Topics) There(topic string) bool {
	kind, of, _ := strings.Cut(topic, "/")
	return t.Has(kind, of)
}

// shows says whether a topic has data, which live speed has not.
func (t Topics) shows(topic string) bool {
	return t.There(topic) && !IsSpeed(topic)
}

// ReadTopics reads which topics a query asks for, and refuses what cannot be one of a
// meet's, or of a practice's.
func ReadTopics(query string, practice bool) ([]string, error) {
	if len(query) > mostQuery {
		return nil, refusal.New("many-topics")
	}
	values, err := url.ParseQuery(query)
	if err != nil {
		return nil, refusal.New("bad-topic", "topic", "")
	}
	var topics []string
	for i, topic := range strings.Split(values.Get("topics"), ",") {
		switch {
		case !wellFormed(topic, practice):
			return nil, refusal.New("bad-topic", "topic", shortened(topic))
		case i == mostTopics:
			return nil, refusal.New("many-topics")
		}
		topics = append(topics, topic)
	}
	return topics, nil
}

// asked reads which topics a query asks for. What is not there yet costs nothing and is
// sent once it is there; strangers may ask for a few of those beside what is there, and
// not for those alone.
func (t Topics) asked(query string, who Who) ([]string, error) {
	topics, err := ReadTopics(query, t.Practice)
	if err != nil {
		return nil, err
	}
	unknown, last := 0, ""
	for _, topic := range topics {
		if !t.There(topic) {
			unknown, last = unknown+1, topic
		}
	}
	if who.Caller == "" && unknown > min(mostUnknown, len(topics)-1) {
		return nil, refusal.New("bad-topic", "topic", last)
	}
	return topics, nil
}

// Public is a topic as everybody may see it: of a bench there is one that only those with a
// key may see whole.
func Public(topic string) string {
	if strings.HasPrefix(topic, "bench/") && !strings.HasSuffix(topic, read.ForAll) {
		return topic + read.ForAll
	}
	return topic
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
	case "board", "meet", "day-plan":
		return !named
	case "standings", "bracket", "bench", "car":
		return named
	}
	return kind == "speed"
}

// practiceRuns is how many runs the practice topic shows.
const practiceRuns = 50

func practiceTopic(s *club.State, topic string) (Content, bool) {
	if topic != "practice" {
		return Content{}, false
	}
	board := view.Practice(s, "", practiceRuns)
	seq := board.Seq
	board.Seq = 0
	text := encode(board)
	return Content{text, seq, func(to []byte) []byte {
		board.Seq = seq
		return append(to, encode(board)...)
	}}, true
}

// encode is JSON of a thing of the contract; that it cannot be encoded is a mistake of
// the program, which fails its topic.
func encode(thing any) []byte {
	out, err := json.Marshal(thing)
	if err != nil {
		panic(err)
	}
	return out
}
