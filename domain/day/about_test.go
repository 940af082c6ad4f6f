package day

import (
	"slices"
	"testing"
)

// Every event that can have a free text says whom it is about: a text without anybody
// could never be erased with whom it names.
func TestEveryTextIsAboutSomebody(t *testing.T) {
	with := 0
	for _, kind := range Types() {
		e, err := readers[kind].read([]byte("{}"), readers[kind].version)
		if err != nil {
			t.Fatal(err)
		}
		if _, is := e.(reasoned); !is {
			continue
		}
		with++
		if _, is := e.(told); !is {
			t.Errorf("%s has a reason and does not say whom its text is about", kind)
		}
	}
	if with < 20 {
		t.Errorf("only %d kinds of events have a reason: this proves nothing", with)
	}
}

// Whom a text is about, by what its event is about.
func TestWhomATextIsAbout(t *testing.T) {
	s := New()
	for _, id := range []EntryID{"e1", "e2", "e3", "e4"} {
		s.Entries[id] = Entry{ID: id, Entrant: EntrantID("p-" + id), Division: "open"}
	}
	s.Entries["e5"] = Entry{ID: "e5", Entrant: "p-e5", Division: "other"}
	s.Heats["h"] = Heat{ID: "h", Lanes: []Lane{{Entry: "e1"}, {Entry: "e2"}}}
	s.Runs["r1"] = Run{ID: "r1", Bench: "b1", Heat: "h", Entry: "e1"}
	s.Runs["r3"] = Run{ID: "r3", Bench: "b1", Entry: "e3"}
	s.Runs["nobody"] = Run{ID: "nobody", Bench: "b2", Waiting: WaitsUnknown}
	s.Protests["mine"] = Protest{ID: "mine", Heat: "h", Entry: "e2"}
	s.Protests["any"] = Protest{ID: "any", Heat: "h"}
	why := Reason{Code: ReasonOther, Text: "t"}
	r := Ruled{Reason: why}
	for name, tt := range map[string]struct {
		event Event
		want  []EntrantID
	}{
		"a lane":                       {StatusRuled{Ruled: r, Heat: "h", Entry: "e1"}, []EntrantID{"p-e1"}},
		"an entry":                     {EntryWithdrawn{Ruled: r, Entry: "e4"}, []EntrantID{"p-e4"}},
		"a re-run that was asked for":  {RerunAsked{Heat: "h", Entry: "e2", Reason: why}, []EntrantID{"p-e2"}},
		"two lanes":                    {LanesSwapped{Ruled: r, Heat: "h", A: "e2", B: "e1"}, []EntrantID{"p-e1", "p-e2"}},
		"a heat":                       {HeatVoided{Ruled: r, Heat: "h"}, []EntrantID{"p-e1", "p-e2"}},
		"a protest for somebody":       {ProtestLodged{ID: "x", Heat: "h", Entry: "e1", Reason: why}, []EntrantID{"p-e1"}},
		"a protest in one's own name":  {ProtestLodged{ID: "x", Heat: "h", Reason: why}, []EntrantID{"p-e1", "p-e2"}},
		"a ruling on a protest":        {ProtestRuled{Ruled: r, ID: "mine"}, []EntrantID{"p-e2"}},
		"a ruling on one of nobody":    {ProtestRuled{Ruled: r, ID: "any"}, []EntrantID{"p-e1", "p-e2"}},
		"a run that is set aside":      {RunSetAside{Ruled: r, Run: "r1"}, []EntrantID{"p-e1"}},
		"a run of nobody, with a name": {RunSetAside{Ruled: r, Run: "nobody", Entry: "e4"}, []EntrantID{"p-e4"}},
		"a run of nobody":              {RunSetAside{Ruled: r, Run: "nobody"}, nil},
		"a run that counts for others": {
			RunReassigned{Ruled: r, Run: "r1", FromHeat: "h", FromEntry: "e1", Heat: "h", Entry: "e2"}, []EntrantID{"p-e1", "p-e2"},
		},
		"a bench that is read again": {RunMeasuredAgain{Ruled: r, Run: "r1"}, []EntrantID{"p-e1", "p-e3"}},
		"a division":                 {ProgrammeEnded{Ruled: r, Division: "open"}, []EntrantID{"p-e1", "p-e2", "p-e3", "p-e4"}},
		"a round that closes early":  {RoundClosed{Division: "other", Early: &why}, []EntrantID{"p-e5"}},
		"all":                        {FactorsWithdrawn{Ruled: r}, []EntrantID{"p-e1", "p-e2", "p-e3", "p-e4", "p-e5"}},
		"an event without a text":    {MeetResumed{}, nil},
		"another text":               {EntryWithdrawn{Ruled: Ruled{Reason: Reason{Text: "other"}}, Entry: "e4"}, nil},
	} {
		t.Run(name, func(t *testing.T) {
			got, err := About(s, "t", tt.event)
			if !slices.Equal(got, tt.want) || (err == nil) != (len(tt.want) > 0) {
				t.Errorf("got %v, %v; want %v", got, err, tt.want)
			}
		})
	}
}
