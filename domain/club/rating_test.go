package club_test

import (
	"fmt"
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"benchmeet/domain/club"
	"benchmeet/domain/day"
	"benchmeet/domain/meet"
	"benchmeet/domain/programme"
	"benchmeet/domain/rating"
	"benchmeet/domain/refusal"
)

// won is a game that a won against b.
func won(a, b day.EntrantID) programme.RatedGame { return programme.RatedGame{A: a, B: b, Score: 2} }

// taking is the rating of a division "a" of a meet.
func taking(meetID string, number int, games ...programme.RatedGame) club.TakeRatings {
	return club.TakeRatings{Meet: meetID, Division: "a", Class: "open", Number: number, Games: games}
}

// take gives commands one after the other and returns the events of the last.
func take(t testing.TB, s *club.State, commands ...club.TakeRatings) []club.Event {
	t.Helper()
	var events []club.Event
	for _, c := range commands {
		var err error
		if events, err = club.Decide(s, c, meet.Meta{}); err != nil {
			t.Fatal(err)
		}
		for _, e := range events {
			club.Evolve(s, e, clubStart)
		}
	}
	return events
}

func updated(t testing.TB, r rating.Rating, games ...rating.Game) rating.Kept {
	t.Helper()
	after, err := rating.Update(r, games, 0.5)
	if err != nil {
		t.Fatal(err)
	}
	return after.Keep()
}

// Two unknown people meet once: each is rated against the other's value from
// before the meet, so what one gains the other loses.
func TestFirstRating(t *testing.T) {
	s := club.New()
	take(t, s, taking("spring", 1, won("p1", "p2")))
	want := []club.Rating{
		{
			Entrant: "p1", Class: "open", Kept: updated(t, rating.New(), rating.Game{Opponent: rating.New(), Score: 1}), Games: 1, Meets: 1,
			Last: "spring",
		},
		{
			Entrant: "p2", Class: "open", Kept: updated(t, rating.New(), rating.Game{Opponent: rating.New(), Score: 0}), Games: 1, Meets: 1,
			Last: "spring",
		},
	}
	if diff := cmp.Diff(want, s.Ratings()); diff != "" {
		t.Errorf("(-want +got)\n%s", diff)
	}
	if sum := want[0].Milli + want[1].Milli; sum != 3_000_000 {
		t.Errorf("the two have %d thousandths, want 3000000", sum)
	}
}

// The example of Glickman's paper ("Example of the Glicko-2 system", 2022) over the
// club: 1500 with a deviation of 200 beats 1400 (30) and loses to 1550 (100) and to
// 1700 (300), and comes to 1464.06 (151.52).
func TestPublishedExample(t *testing.T) {
	at := func(value, deviation float64) rating.Kept {
		return rating.Rating{Value: value, Deviation: deviation, Volatility: 0.06}.Keep()
	}
	s := given(club.RatingsTaken{RatingPeriod: club.RatingPeriod{
		Meet: "winter", Division: "a", Class: "open", Number: 1,
		Ratings: []club.EntrantRating{
			{Entrant: "p0", Kept: at(1500, 200)},
			{Entrant: "p1", Kept: at(1400, 30)},
			{Entrant: "p2", Kept: at(1550, 100)},
			{Entrant: "p3", Kept: at(1700, 300)},
		},
	}})
	take(t, s, taking("spring", 1, won("p0", "p1"), won("p2", "p0"), won("p3", "p0")))
	for _, r := range s.Ratings() {
		if r.Entrant != "p0" {
			continue
		}
		if math.Abs(float64(r.Milli)-1464060) > 50 || math.Abs(float64(r.DeviationMilli)-151520) > 50 {
			t.Errorf("p0 comes to %d ± %d thousandths, want 1464.06 ± 151.52", r.Milli, r.DeviationMilli)
		}
	}
}

func TestRatingOnce(t *testing.T) {
	s := club.New()
	take(t, s, taking("spring", 1, won("p1", "p2")))
	if again := take(t, s, taking("spring", 1, won("p2", "p1"))); len(again) > 0 {
		t.Errorf("the same publication again gives %v", again)
	}
	if none := take(t, s, taking("summer", 1)); len(none) != 1 || len(s.Ratings()) != 2 {
		t.Errorf("a meet without a race of two gives %v", none)
	}
	_, err := club.Decide(s, taking("autumn", 1, won("p1", "p1")), meet.Meta{})
	if no, is := refusal.As(err); !is || no.Code != "rating-game" {
		t.Errorf("a race against oneself gives %v", err)
	}
}

// A correction rates from the values before that meet, and the meets behind follow.
func TestCorrection(t *testing.T) {
	s := club.New()
	take(t, s, taking("spring", 1, won("p1", "p2")), taking("autumn", 1, won("p1", "p3")))
	events := take(t, s, taking("spring", 2, won("p2", "p1")))
	if len(events) != 2 || !events[1].(club.RatingsTaken).Follows || events[1].(club.RatingsTaken).Meet != "autumn" {
		t.Fatalf("the correction gives %+v", events)
	}
	want := club.New()
	take(t, want, taking("spring", 2, won("p2", "p1")), taking("autumn", 1, won("p1", "p3")))
	if diff := cmp.Diff(want.Ratings(), s.Ratings()); diff != "" {
		t.Errorf("(-want +got)\n%s", diff)
	}
}

// Who misses a meet of the class is known less well after it; other classes do
// not count, nor does a second division of a meet.
func TestIdleMeets(t *testing.T) {
	deviation := func(between ...club.TakeRatings) int64 {
		s := club.New()
		take(t, s, taking("spring", 1, won("p1", "p2")))
		take(t, s, between...)
		take(t, s, taking("autumn", 1, won("p1", "p2")))
		for _, r := range s.Ratings() {
			if r.Entrant == "p1" {
				return r.DeviationMilli
			}
		}
		t.Fatal("p1 has no rating")
		return 0
	}
	other := taking("summer", 1, won("p3", "p4"))
	other.Class = "other"
	second := taking("spring", 1, won("p3", "p4"))
	second.Division = "b"
	straight := deviation()
	if got := deviation(taking("summer", 1, won("p3", "p4"))); got <= straight {
		t.Errorf("after a missed meet the deviation is %d, without one %d", got, straight)
	}
	if got := deviation(other); got != straight {
		t.Errorf("a meet of another class changes the deviation from %d to %d", straight, got)
	}
	if got := deviation(second); got != straight {
		t.Errorf("a second division of a meet changes the deviation from %d to %d", straight, got)
	}
}

// Who was erased is not listed any more; those who raced them keep their ratings.
func TestErasedRating(t *testing.T) {
	s := club.New()
	take(t, s, taking("spring", 1, won("p1", "p2")))
	before := s.Ratings()
	club.Evolve(s, erased, clubStart) // p1
	if diff := cmp.Diff(before[1:], s.Ratings()); diff != "" {
		t.Errorf("(-want +got)\n%s", diff)
	}
}

// TestRatingsFollowCorrections: however meets are published and corrected, the
// ratings are those of their newest publications, rated in order.
func TestRatingsFollowCorrections(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		tb := noTB{t: t}
		s := club.New()
		newest := map[string]club.TakeRatings{}
		var order []string
		for range rapid.IntRange(1, 10).Draw(t, "publications") {
			id := rapid.SampledFrom([]string{"spring", "summer", "autumn", "winter"}).Draw(t, "meet")
			var games []programme.RatedGame
			for range rapid.IntRange(0, 4).Draw(t, "games") {
				a := rapid.IntRange(1, 4).Draw(t, "a")
				b := (a+rapid.IntRange(0, 2).Draw(t, "b"))%4 + 1
				games = append(games, programme.RatedGame{
					A: day.EntrantID(fmt.Sprintf("p%d", a)), B: day.EntrantID(fmt.Sprintf("p%d", b)), Score: rapid.IntRange(0, 2).Draw(t, "score"),
				})
			}
			if _, known := newest[id]; !known {
				order = append(order, id)
			}
			newest[id] = taking(id, newest[id].Number+1, games...)
			take(tb, s, newest[id])
		}
		want := club.New()
		for _, id := range order {
			take(tb, want, newest[id])
		}
		if diff := cmp.Diff(want.Ratings(), s.Ratings()); diff != "" {
			t.Fatalf("(-want +got)\n%s", diff)
		}
	})
}
