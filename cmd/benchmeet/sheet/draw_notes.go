package sheet

import (
	"fmt"
	"reflect"
	"slices"
	"strings"

	"benchmeet/bracket"
)

// noteSays words the notes of a draw.
func noteSays(n bracket.Note, ids []string) string {
	who := strings.Join(ids, " and ")
	switch n.Code {
	case bracket.ClubmatesMeet:
		return fmt.Sprintf("%s, of one club, may meet in round %d: no better place was free", who, n.Round)
	case bracket.ClubmatesInGroup:
		return fmt.Sprintf("%s, of one club, stand in group %s: no better place was free", who, n.Group)
	case bracket.SeedsMoved:
		return fmt.Sprintf("%s changed places within their group of seeds to keep clubmates apart", strings.Join(ids, ", "))
	case bracket.RunInTurn:
		return fmt.Sprintf("%s share a car: they run one after the other", who)
	case bracket.NoPlate:
		return "the plate is left out: fewer than two who are beaten at once have no other heat to go to"
	case bracket.NoThirdPlace:
		return "the heat for third place is left out: it takes four in the knockout"
	case bracket.NoBFinal:
		return "the B-final is left out: fewer than two are left for it, or no final follows"
	case bracket.FewerNextBest:
		return fmt.Sprintf(
			"fewer next best go on from round %d than asked for, by %d: the final has no more lanes, or nobody else ran", n.Round, n.Left,
		)
	}
	return string(n.Code)
}

// optionIgnored is the code of a note on an option that the draw did not need.
const optionIgnored bracket.NoteCode = "option-ignored"

// optionsOf lists the options that mean something to a kind. Every kind knows seeds and benches.
var optionsOf = map[bracket.Kind][]string{
	// A third place and a plate are refused by a double elimination, in its own words.
	bracket.KnockoutKind:          {"order", "lines", "separate_clubs", "third_place", "plate", "legs"},
	bracket.DoubleEliminationKind: {"order", "lines", "separate_clubs", "third_place", "plate", "legs"},
	bracket.RoundRobinKind:        {"cycles"},
	bracket.GroupsKind:            {"groups", "cycles", "separate_clubs", "advance", "next_best", "third_place"},
	bracket.HeatsKind:             {"heats", "lanes", "advance", "next_best", "heat_order", "circled", "centre_lanes", "b_final"},
	bracket.TimedRoundsKind:       {"heats", "lanes", "rounds"},
}

// ignoredOptions says which options of the file changed nothing, so that nobody waits for what does not come.
func ignoredOptions(in DrawInput, seeded int) []drawNote {
	var notes []drawNote
	ignored := func(says string) {
		notes = append(notes, drawNote{Code: optionIgnored, Says: says})
	}
	options := reflect.ValueOf(in.Options)
	known := append([]string{"seeds", "benches"}, optionsOf[in.Kind]...)
	for i := range options.NumField() {
		name := options.Type().Field(i).Tag.Get("json")
		if !options.Field(i).IsZero() && !slices.Contains(known, name) {
			ignored(fmt.Sprintf("the option %s has no meaning for the kind %s and is left aside", name, in.Kind))
		}
	}
	o := in.Options
	switch {
	case o.Lines != "" && o.Order != bracket.ByLotOrder && slices.Contains(known, "lines"):
		ignored("the option lines goes with the order by-lot and is left aside")
	case o.Circled != 0 && o.HeatOrder != bracket.CircleOrder && in.Kind == bracket.HeatsKind:
		ignored("the option circled goes with the heat_order circle and is left aside")
	case in.Kind == bracket.TimedRoundsKind && seeded > 0 && seeded < len(in.Entries):
		ignored(
			fmt.Sprintf(
				"%d of %d entries name a seed: timed rounds are dealt by seed only where all do, so all are drawn by lot", seeded, len(in.Entries),
			),
		)
	}
	return notes
}
