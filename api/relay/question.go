package relay

import (
	"encoding/json"
	"hash/fnv"
	"strconv"

	"benchmeet/api/live"
	"benchmeet/api/store"
	"benchmeet/domain/refusal"
)

// Place is what somebody listens to, by the address that they opened.
type Place struct {
	Host string `json:"host"` // as the request named it
	Path string `json:"path"` // what stood in front of /api; empty for the server's own club
	Meet string `json:"meet"` // empty for the club's practice
}

// question is what a node asks of a stream: which topics, and what it has of them.
type question struct {
	Place Place             `json:"place"`
	Have  map[string]string `json:"have"` // the topic's sum; empty for nothing
}

// answer is what a giver has of them.
type answer struct {
	// Refused is why there is nothing; all else is empty then.
	Refused *refused `json:"refused,omitempty"`
	Giver   string   `json:"giver"`
	Club    string   `json:"club"`
	Stream  string   `json:"stream"`
	There   []string `json:"there"` // those of the topics that there are
	Frames  []frame  `json:"frames"`
	// More says that some did not fit: ask again.
	More bool `json:"more"`
}

type refused struct {
	Code refusal.Code      `json:"code"`
	Args map[string]string `json:"args"`
}

// frame is what a topic shows.
type frame struct {
	Topic string `json:"topic"`
	Seq   int64  `json:"seq"`
	// Sum is of the data without what changes at every position: what is equal is not
	// sent again.
	Sum  string          `json:"sum"`
	Data json.RawMessage `json:"data"`
	// Gone says that nobody may listen to the stream any more; all else is empty then.
	Gone bool `json:"gone,omitempty"`
}

// spoken is live speed.
type spoken struct {
	Club   string          `json:"club"`
	Stream string          `json:"stream"`
	Topic  string          `json:"topic"`
	Data   json.RawMessage `json:"data"`
}

// hear hands live speed of a message over.
func hear(message []byte, tell func(live.Spoken)) {
	var s spoken
	if json.Unmarshal(message, &s) == nil {
		tell(live.Spoken{Stream: store.Stream{Club: s.Club, Name: s.Stream}, Topic: s.Topic, Data: s.Data})
	}
}

func sumOf(text []byte) string {
	h := fnv.New64a()
	_, _ = h.Write(text) // it never fails
	return strconv.FormatUint(h.Sum64(), 36)
}

// mostAnswer bounds the frames of an answer, in bytes: brokers take messages of 1 MB, and
// what one frame is longer goes alone.
const mostAnswer = 400 << 10

// encode is JSON of what this package made: it can be encoded.
func encode(thing any) []byte {
	text, err := json.Marshal(thing)
	if err != nil {
		panic(err)
	}
	return text
}
