package live

import (
	"testing"

	"benchmeet/domain/club"
	"benchmeet/domain/day"
)

// FuzzTopics: whatever a listener asks for, it gets a list of topics that can be, no
// longer than the limit, or a refusal.
func FuzzTopics(f *testing.F) {
	for _, seed := range []string{
		"", "topics=board", "topics=board,meet,standings/junior,speed/b1", "topics=%ff", "topics=practice,speed", "a=b&topics=board;meet",
		"topics=standings/", "topics=,,,", "topics=bench/../b1",
	} {
		f.Add(seed, "")
		f.Add(seed, "caller")
	}
	sets := []Topics{meetTopics(day.New()), practiceTopics(club.New())}
	f.Fuzz(func(t *testing.T, query, caller string) {
		for _, s := range sets {
			topics, err := s.asked(query, Who{Address: "192.0.2.1", Caller: caller})
			if err != nil {
				continue
			}
			if len(topics) == 0 || len(topics) > mostTopics {
				t.Errorf("%q gives %d topics", query, len(topics))
			}
			for _, topic := range topics {
				if !wellFormed(topic, s.Practice) {
					t.Errorf("%q gives %q", query, topic)
				}
			}
		}
	})
}
