package live

import (
	"encoding/json"
	"strings"

	"benchmeet/api/gen"
	"benchmeet/api/intake"
	"benchmeet/api/store"
)

// Spoken is live speed as it is told: of which stream, under which topic, as JSON.
type Spoken struct {
	Stream store.Stream
	Topic  string
	Data   []byte
}

// Speak puts live speed as it is told; false where it is not a number, which is nothing
// to show.
func Speak(sp intake.Speed) (Spoken, bool) {
	data, err := json.Marshal(gen.LiveSpeed{
		Bench: string(sp.Bench), BenchNumber: number(sp.Number), Run: string(sp.Run), Rpm: sp.RPM, SpeedMps: sp.SpeedMPS,
		DistanceM: sp.DistanceM, Laps: sp.Laps, ElapsedS: sp.ElapsedS,
	})
	return Spoken{streamOf(sp), "speed/" + string(sp.Bench), data}, err == nil
}

func streamOf(sp intake.Speed) store.Stream {
	if sp.Meet != "" {
		return store.MeetStream(sp.Club, sp.Meet)
	}
	return store.ClubStream(sp.Club)
}

// Speed hands telemetry to those who listen. It never blocks for long: slots
// take only the newest.
func (h *Hub) Speed(sp intake.Speed) {
	if h.room(streamOf(sp)) == nil {
		return
	}
	if said, is := Speak(sp); is {
		h.Tell(said)
	}
}

// Tell is Speed of what was put already.
func (h *Hub) Tell(said Spoken) {
	in := h.room(said.Stream)
	if in == nil {
		return
	}
	frame, err := encodeFrame(said.Topic, nil, func(to []byte) []byte { return append(to, said.Data...) })
	if err == nil {
		in.telemetry("speed", frame)
	}
}

// IsSpeed says whether a topic is one of live speed.
func IsSpeed(topic string) bool { return topic == "speed" || strings.HasPrefix(topic, "speed/") }

func (h *Hub) room(s store.Stream) *room {
	h.mu.Lock()
	defer h.mu.Unlock()
	return h.rooms[s]
}

// number leaves out the number of a bench that is not known.
func number(n int) *int {
	if n == 0 {
		return nil
	}
	return &n
}
