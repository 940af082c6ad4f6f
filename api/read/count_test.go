package read

import (
	"fmt"
	"maps"
	"slices"
	"strings"
	"testing"

	"benchmeet/api/store"
	"benchmeet/api/view"
	"benchmeet/api/view/viewtest"
	"benchmeet/domain/day"
	"benchmeet/domain/meet"
)

// counted is a model that says what it computed.
func counted() (*Model, func() string) {
	computed := map[string]int{}
	return New(func(what string) {
			if _, number, is := strings.Cut(what, "-L"); is && strings.HasPrefix(what, "run/") {
				what = strings.TrimSuffix(what, "-L"+number) + "-*" // which of the heat's
				computed[what] = 0
			}
			computed[what]++
		}), func() string {
			var out []string
			for _, what := range slices.Sorted(maps.Keys(computed)) {
				out = append(out, fmt.Sprint(what, "×", computed[what]))
			}
			clear(computed)
			return strings.Join(out, " ")
		}
}

// TestAnEventComputesItsDivision: after one event of one division all topics of four are
// asked for twice. That division is ranked and written once, of its heats the one that
// the event is about with the days of the cars in it, and nothing of the others.
func TestAnEventComputesItsDivision(t *testing.T) {
	h := viewtest.NewHall(t, 4, 8)
	m, computed := counted()
	all := func() {
		v := view.MeetView{ID: "spring", State: h.State.Clone(), Head: headAt(h.State)}
		for range 2 {
			for _, topic := range topicsOf(v.State) {
				if _, there := m.Show(stream, v, topic); !there {
					t.Fatal("there is no", topic)
				}
			}
		}
	}
	all()
	got := computed()
	if strings.Count(got, "standings/") != 4 || !strings.Contains(got, "standings/band-3×1") || strings.Contains(got, "×2") {
		t.Errorf("at first: %s", got)
	}
	next := h.State.Programmes[viewtest.Division(2)].Stages[0].Rounds[2].Heats[1]
	for _, order := range h.Race(next) {
		h.Give(order())
		all()
		cars := ""
		for _, e := range slices.Sorted(maps.Keys(h.State.Entries)) {
			if _, races := h.State.Heats[next].Lane(e); races {
				cars += fmt.Sprintf("car/%s×1 ", e)
			}
		}
		want := fmt.Sprintf(
			"board×1 bracket/band-2×1 %sday-plan×1 heat/%s×1 heats×1 meet×1 meet/band-2×1 runs×1 standings/band-2×1", cars, next)
		if got := strings.Replace(computed(), fmt.Sprintf(" run/%s-*×1", next), "", 1); got != want {
			t.Errorf("after an order of %s:\n got %s\nwant %s", next, got, want)
		}
	}
	h.Give(meet.Pause{Reason: day.Reason{Code: day.ReasonPower}})
	all()
	if got, want := computed(), "board×1 day-plan×1 meet×1 runs×1"; got != want {
		t.Errorf("after a pause:\n got %s\nwant %s", got, want)
	}
}

// TestAPositionIsComputedOnce: whoever asks again at a position gets the same bytes and
// has nothing computed, packed or not.
func TestAPositionIsComputedOnce(t *testing.T) {
	h := viewtest.NewHall(t, 1, 8)
	m, computed := counted()
	v := view.MeetView{ID: "spring", State: h.State, Head: headAt(h.State)}
	for _, topic := range topicsOf(h.State) {
		first, _ := m.Show(stream, v, topic)
		body, packed := first.Body(), first.Packed()
		computed()
		again, _ := m.Show(stream, v, topic)
		if got := computed(); topic != "bench/b1" && got != "" {
			t.Errorf("%s asked for again computes %s", topic, got)
		}
		if &again.Body()[0] != &body[0] || &again.Packed()[0] != &packed[0] {
			t.Errorf("%s is made again", topic)
		}
	}
}

// TestNobodyIsShownAnOlderDay: who comes with an older state or older names than were
// shown already gets what is newest.
func TestNobodyIsShownAnOlderDay(t *testing.T) {
	h := viewtest.NewHall(t, 1, 8)
	p := &people{all: map[string]store.Person{"p1": {ID: "p1", DisplayName: "Comet", OnScreen: true, InResults: true}}}
	names := view.NewDirectory(p)
	named, err := names.Names(t.Context(), "harbour")
	if err != nil {
		t.Fatal(err)
	}
	before := view.MeetView{ID: "spring", State: h.State.Clone(), Head: headAt(h.State), Names: named}
	m := New(nil)
	if shown, _ := m.Show(stream, before, "entries"); !strings.Contains(string(shown.Body()), "Comet") {
		t.Fatalf("the name is not shown: %s", shown.Body())
	}
	delete(p.all, "p1")
	names.Forget("harbour")
	if named, err = names.Names(t.Context(), "harbour"); err != nil {
		t.Fatal(err)
	}
	h.Give(meet.Pause{Reason: day.Reason{Code: day.ReasonPower}})
	after := view.MeetView{ID: "spring", State: h.State, Head: headAt(h.State), Names: named}
	if _, there := m.Show(stream, after, "board"); !there {
		t.Fatal("no board")
	}
	for _, topic := range topicsOf(h.State) {
		shown, _ := m.Show(stream, before, topic)
		if shown.Head != after.Head || strings.Contains(string(shown.Body()), "Comet") {
			t.Errorf("%s is shown at %d: %s", topic, shown.Head.Seq, shown.Body())
		}
	}
}
